/* musicxml-nodes.c - what elements are read with: children, texts and numbers of a node, and the place in the bar. */
#include "score/musicxml-private.h"

#include <string.h>

gboolean musicxml_is(const xmlNode *node, const char *name)
{
    return node->type == XML_ELEMENT_NODE && strcmp((const char *)node->name, name) == 0;
}

const xmlNode *musicxml_child(const xmlNode *node, const char *name)
{
    for (const xmlNode *child = node->children; child != NULL; child = child->next)
        if (musicxml_is(child, name))
            return child;
    return NULL;
}

char *musicxml_raw_text(const xmlNode *node, score_part *part)
{
    GString *text = g_string_new(NULL);

    for (const xmlNode *child = node->children; child != NULL; child = child->next) {
        if (child->type == XML_TEXT_NODE || child->type == XML_CDATA_SECTION_NODE) {
            g_string_append(text, (const char *)child->content);
        } else if (child->type == XML_ENTITY_REF_NODE) {
            g_string_append(text, "\uFFFD");
            if (part != NULL)
                part->met[APERTA_SCORE_REMARK_STRANGE_LETTER]++;
        }
    }
    return g_string_free(text, FALSE);
}

char *musicxml_text(const xmlNode *node, score_part *part)
{
    return g_strstrip(musicxml_raw_text(node, part));
}

char *musicxml_child_text(const xmlNode *node, const char *name)
{
    const xmlNode *child = musicxml_child(node, name);

    return child != NULL ? musicxml_text(child, NULL) : NULL;
}

char *musicxml_attribute(const xmlNode *node, const char *name)
{
    for (const xmlAttr *attribute = node->properties; attribute != NULL; attribute = attribute->next) {
        if (strcmp((const char *)attribute->name, name) != 0)
            continue;
        char *text = score_cut_name(musicxml_text((const xmlNode *)attribute, NULL));
        if (text[0] != '\0')
            return text;
        g_free(text);
    }
    return NULL;
}

gboolean musicxml_child_number(const xmlNode *node, const char *name, double *value)
{
    g_autofree char *text = musicxml_child_text(node, name);

    return score_number(text, value);
}

guint musicxml_staff_index(const char *text)
{
    double number;

    return score_number(text, &number) ? (guint)CLAMP(number - 1.0, 0.0, SCORE_STAVES_MAX - 1.0) : 0;
}

/* ---- where the reading stands ------------------------------------------------------------------------------------ */

double musicxml_quarters(const musicxml_part *part, double duration)
{
    return duration / (part->divisions > 0.0 ? part->divisions : 1.0);
}

void musicxml_move(musicxml_reading *reading, double quarters)
{
    musicxml_part *at = reading->at;
    score_bar *bar = score_draft_bar(reading->draft, at->bar);

    at->cursor += quarters;
    if (at->cursor < -SCORE_SAME_QUARTERS)
        at->part->met[APERTA_SCORE_REMARK_BACK_TOO_FAR]++;
    at->cursor = CLAMP(at->cursor, 0.0, SCORE_LENGTH_MAX_QUARTERS);
    bar->length = MAX(bar->length, at->cursor);
}
