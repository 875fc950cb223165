/* told.c - the words of a rule, so that a way to make a shape is told in full only once in a report. */
#include "words/words.h"

#include <string.h>

/* text with the first part in it replaced by other. */
static char *replaced(const char *text, const char *part, const char *other)
{
    const char *at = strstr(text, part);

    return g_strdup_printf("%.*s%s%s", (int)(at - text), text, other, at + strlen(part));
}

GHashTable *words_told_new(void)
{
    return g_hash_table_new_full(g_str_hash, g_str_equal, NULL, g_free);
}

/* Length of who without its pitch, which the words say again: "“sea” on C5", "On C5 try". */
static int length_without_pitch(const char *who, const char *text)
{
    const char *on = g_strrstr(who, " on ");
    gsize length = on != NULL ? strlen(on + 1) : 0;
    gboolean again = on != NULL && g_ascii_strncasecmp(text, on + 1, length) == 0 && text[length] == ' ';

    return (int)(again ? (gsize)(on - who) : strlen(who));
}

char **words_tell(GHashTable *told, const aperta_finding *finding, const char *who, gboolean same_words)
{
    const char *said = finding->text != NULL ? finding->text : "";
    const char *how = finding->shape != NULL ? finding->shape->how : NULL;
    gboolean held = how != NULL && strstr(said, how) != NULL;
    const char *before = how != NULL ? g_hash_table_lookup(told, how) : NULL;
    g_autofree char *again = before != NULL ? g_strdup_printf("How: as told for %s.", before) : NULL;
    g_autofree char *text = held && before != NULL ? replaced(said, how, again) : g_strdup(said);
    char **paragraphs = g_new0(char *, 3);

    paragraphs[0] =
        same_words ? g_strdup(text) : g_strdup_printf("%.*s: %s", length_without_pitch(who, text), who, text);
    paragraphs[0][0] = g_ascii_toupper(paragraphs[0][0]);
    if (how != NULL && !held)
        paragraphs[1] = before != NULL ? g_strdup(again) : g_strdup_printf("How: %s", how);
    if (how != NULL && before == NULL)
        g_hash_table_insert(told, (gpointer)how, g_strdup(who));
    return paragraphs;
}
