/* marked.c - a copy of a MusicXML score with one more lyric line.
 *
 * The whole document is kept as a tree, one <lyric> is put into each marked <note>, and the tree is written again in
 * its own encoding. Its place follows the content model of <note> (W3C MusicXML 4.0): behind <notations> and other
 * lyrics, before <play> and <listen>. The line is named (the attribute name of <lyric>), so that a reader knows it for
 * ours; a part that is marked again loses its earlier marks. */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <libxml/parser.h>
#include <libxml/tree.h>
#include <math.h>
#include <string.h>

/* Distance of two lyric lines where the score has one only, in tenths of a staff space; bench: looks like its own. */
#define LINE_TENTHS 20.0

typedef struct {
    const char *name;
    xmlDoc *doc;
    GPtrArray *notes; /* xmlNode of each note, in the order in which the reader counts them */
    char *number;     /* of the new line */
    char *placement;  /* attributes of the lines there are, for the new one; NULL: they have none */
    char *justify;
    gboolean placed; /* lines have a default-y */
    double lowest, highest;
} marking;

static gboolean is_element(const xmlNode *node, const char *name)
{
    return node->type == XML_ELEMENT_NODE && strcmp((const char *)node->name, name) == 0;
}

/* A copy that g_free() takes; NULL: none. */
static char *attribute(xmlNode *node, const char *name)
{
    xmlChar *value = xmlGetNoNsProp(node, BAD_CAST name);
    char *copy = g_strdup((const char *)value);

    xmlFree(value);
    return copy;
}

static gboolean is_own_lyric(xmlNode *node)
{
    g_autofree char *name = is_element(node, "lyric") ? attribute(node, "name") : NULL;

    return g_strcmp0(name, SCORE_MARKS_NAME) == 0;
}

/* outer and inner as in the reader: parts of measures, or measures of parts. */
static void collect_notes(marking *in, xmlNode *root)
{
    gboolean timewise = is_element(root, "score-timewise");

    for (xmlNode *outer = root->children; outer != NULL; outer = outer->next) {
        if (!is_element(outer, timewise ? "measure" : "part"))
            continue;
        for (xmlNode *inner = outer->children; inner != NULL; inner = inner->next) {
            if (!is_element(inner, timewise ? "part" : "measure"))
                continue;
            for (xmlNode *item = inner->children; item != NULL; item = item->next)
                if (is_element(item, "note"))
                    g_ptr_array_add(in->notes, item);
        }
    }
}

static void look_at_lyric(marking *in, xmlNode *lyric)
{
    g_autofree char *y = attribute(lyric, "default-y");
    double tenths;

    if (in->placement == NULL)
        in->placement = attribute(lyric, "placement");
    if (in->justify == NULL)
        in->justify = attribute(lyric, "justify");
    if (!score_number(y, &tenths))
        return;
    in->lowest = in->placed ? MIN(in->lowest, tenths) : tenths;
    in->highest = in->placed ? MAX(in->highest, tenths) : tenths;
    in->placed = TRUE;
}

static char *part_of(const xmlNode *note)
{
    return attribute(is_element(note->parent, "part") ? note->parent : note->parent->parent, "id");
}

static void remove_own_lyrics(xmlNode *note)
{
    for (xmlNode *child = note->children; child != NULL;) {
        xmlNode *next = child->next;
        if (is_own_lyric(child)) {
            xmlUnlinkNode(child);
            xmlFreeNode(child);
        }
        child = next;
    }
}

/* How the lyric lines of that part are laid out, and which numbers are taken; marks of an earlier run go. */
static void look_at_part(marking *in, const char *part, GHashTable *numbers)
{
    for (guint i = 0; i < in->notes->len; i++) {
        xmlNode *note = g_ptr_array_index(in->notes, i);
        g_autofree char *id = part_of(note);
        if (g_strcmp0(id, part) != 0)
            continue;
        remove_own_lyrics(note);
        for (xmlNode *child = note->children; child != NULL; child = child->next) {
            if (!is_element(child, "lyric"))
                continue;
            char *number = attribute(child, "number");
            look_at_lyric(in, child);
            g_hash_table_add(numbers, number != NULL ? number : g_strdup("1"));
        }
    }
}

static void choose_number(marking *in, const aperta_score *score, GHashTable *numbers)
{
    for (int number = score->n_verses + 1; in->number == NULL; number++) {
        g_autofree char *text = g_strdup_printf("%d", number);
        if (!g_hash_table_contains(numbers, text))
            in->number = g_steal_pointer(&text);
    }
}

/* The new line stands one line farther from the staff than the others. */
static double new_line_y(const marking *in, int n_verses)
{
    double spacing = n_verses > 1 && in->highest > in->lowest ? (in->highest - in->lowest) / (n_verses - 1) : 0.0;

    if (spacing < LINE_TENTHS / 2.0 || spacing > LINE_TENTHS * 2.0)
        spacing = LINE_TENTHS;
    return in->lowest > 0.0 ? in->highest + spacing : in->lowest - spacing;
}

static xmlNode *last_before(const xmlNode *note)
{
    xmlNode *last = NULL;

    for (xmlNode *child = note->children; child != NULL; child = child->next)
        if (child->type == XML_ELEMENT_NODE && !is_element(child, "play") && !is_element(child, "listen"))
            last = child;
    return last;
}

static void add_lyric(const marking *in, xmlNode *note, const char *text, double y)
{
    char number[G_ASCII_DTOSTR_BUF_SIZE];
    xmlNode *lyric = xmlNewDocNode(in->doc, note->ns, BAD_CAST "lyric", NULL);
    xmlNode *after = last_before(note);

    xmlNewProp(lyric, BAD_CAST "number", BAD_CAST in->number);
    xmlNewProp(lyric, BAD_CAST "name", BAD_CAST SCORE_MARKS_NAME);
    if (in->placed)
        xmlNewProp(lyric, BAD_CAST "default-y", BAD_CAST g_ascii_formatd(number, sizeof number, "%.2f", y));
    if (in->placement != NULL)
        xmlNewProp(lyric, BAD_CAST "placement", BAD_CAST in->placement);
    if (in->justify != NULL)
        xmlNewProp(lyric, BAD_CAST "justify", BAD_CAST in->justify);
    xmlNewTextChild(lyric, note->ns, BAD_CAST "syllabic", BAD_CAST "single");
    xmlNewTextChild(lyric, note->ns, BAD_CAST "text", BAD_CAST text);
    if (after != NULL)
        xmlAddNextSibling(after, lyric);
    else
        xmlAddChild(note, lyric);
}

/* XML has no way to write most control characters. */
static gboolean is_writable(const char *text)
{
    gboolean controls = FALSE;

    for (const char *at = text; *at != '\0'; at++)
        controls |= (guchar)*at < ' ';
    return !controls && text[0] != '\0' && g_utf8_validate(text, -1, NULL);
}

static gboolean check_marks(const marking *in, const aperta_score_mark *marks, gsize n_marks, GError **error)
{
    for (gsize i = 0; i < n_marks; i++) {
        if (marks[i].element >= in->notes->len) {
            g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE, "%s: there is no note %u to mark (it has %u)",
                        in->name, marks[i].element + 1, in->notes->len);
            return FALSE;
        }
        if (!is_writable(marks[i].text)) {
            g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE, "%s: a mark has no text that can be written",
                        in->name);
            return FALSE;
        }
    }
    return TRUE;
}

/* Of the part that was read; none: G_MAXUINT. */
static guint first_element(const aperta_score *score)
{
    return score->n_notes > 0 ? score->notes[0].element : G_MAXUINT;
}

static void mark(marking *in, const aperta_score *score, const aperta_score_mark *marks, gsize n_marks)
{
    g_autoptr(GHashTable) numbers = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);

    guint element = n_marks > 0 ? marks[0].element : first_element(score);
    if (element >= in->notes->len)
        return;
    g_autofree char *part = part_of(g_ptr_array_index(in->notes, element));
    look_at_part(in, part, numbers);
    choose_number(in, score, numbers);
    double y = new_line_y(in, score->n_verses);
    for (gsize i = 0; i < n_marks; i++)
        add_lyric(in, g_ptr_array_index(in->notes, marks[i].element), marks[i].text, y);
}

/* That of the input. UTF-16 needs its byte order mark, which libxml2 writes under that name only. */
static const char *encoding_of(const xmlDoc *doc)
{
    const char *encoding = (const char *)doc->encoding;

    if (encoding == NULL)
        return "UTF-8";
    return g_ascii_strncasecmp(encoding, "UTF-16", 6) == 0 ? "UTF-16" : encoding;
}

static GBytes *write_out(const marking *in, GError **error)
{
    xmlChar *text = NULL;
    int n = 0;

    xmlDocDumpMemoryEnc(in->doc, &text, &n, encoding_of(in->doc));
    if (text == NULL || n <= 0) {
        score_fail(error, in->name, 0, "the marked copy cannot be written in the encoding %s", encoding_of(in->doc));
        return NULL;
    }
    return g_bytes_new_with_free_func(text, (gsize)n, (GDestroyNotify)xmlFree, text);
}

GBytes *score_mark(const score_input *input, const aperta_score *score, const aperta_score_mark *marks, gsize n_marks,
                   GError **error)
{
    marking in = {.name = input->name};
    GBytes *bytes = NULL;

    in.doc = xmlReadMemory(input->bytes, (int)input->n, NULL, NULL,
                           XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING | score_xml_options(input));
    if (in.doc == NULL || xmlDocGetRootElement(in.doc) == NULL) {
        score_fail(error, input->name, 0, "damaged XML (export the score again)");
        return NULL;
    }
    in.notes = g_ptr_array_new();
    collect_notes(&in, xmlDocGetRootElement(in.doc));
    if (check_marks(&in, marks, n_marks, error)) {
        mark(&in, score, marks, n_marks);
        bytes = write_out(&in, error);
    }
    g_ptr_array_unref(in.notes);
    xmlFreeDoc(in.doc);
    g_free(in.number);
    g_free(in.placement);
    g_free(in.justify);
    return bytes;
}
