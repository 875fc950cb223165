/* told.c - the words of a rule, so that a way to make a shape is told in full only once in a report. */
#include "words/finding.h"
#include "words/words.h"

GHashTable *words_told_new(void)
{
    return g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
}

/* "note 3", "“see” on C5". */
static char *whom_words(const words_whom *whom)
{
    if (whom->word == NULL)
        return g_strdup_printf("note %d", whom->number);
    g_autofree char *word = aperta_shown(whom->word);
    return g_strdup_printf("“%s” on %s", word, whom->pitch);
}

/* The same before words that may tell the pitch themselves. */
static char *whom_before(const words_whom *whom, const aperta_finding *finding)
{
    if (whom->word == NULL || !words_finding_begins_with_pitch(finding, whom->pitch))
        return whom_words(whom);
    g_autofree char *word = aperta_shown(whom->word);
    return g_strdup_printf("“%s”", word);
}

char **words_tell(GHashTable *told, const aperta_finding *finding, const words_whom *whom)
{
    gboolean held = words_finding_holds_how(finding);
    g_autofree char *how = finding->shape != NULL ? aperta_shape_how(finding->shape) : NULL;
    const char *before = how != NULL ? g_hash_table_lookup(told, how) : NULL;
    g_autofree char *again = before != NULL ? g_strdup_printf("How: as told for %s.", before) : NULL;
    g_autofree char *text = words_finding(finding, again != NULL ? again : how != NULL ? how : "");
    char **paragraphs = g_new0(char *, 3);

    if (whom->same_words) {
        paragraphs[0] = g_strdup(text);
    } else {
        g_autofree char *who = whom_before(whom, finding);
        paragraphs[0] = g_strdup_printf("%s: %s", who, text);
    }
    paragraphs[0][0] = g_ascii_toupper(paragraphs[0][0]);
    if (how != NULL && !held)
        paragraphs[1] = before != NULL ? g_strdup(again) : g_strdup_printf("How: %s", how);
    if (how != NULL && before == NULL)
        g_hash_table_insert(told, g_steal_pointer(&how), whom_words(whom));
    return paragraphs;
}
