/* table-warnings.c - how far the figures of a table of vowels hold for this voice and these vowels. */
#include "words/warnings.h"

/* The words of a table of one's own are quoted. */
static char *status_sentence(const aperta_vowel_table *table)
{
    switch (table->figures) {
    case APERTA_FIGURES_SECONDARY:
        return g_strdup_printf("The figures of the table %s are from other people's copies of the source, not from the "
                               "source itself.",
                               table->name);
    case APERTA_FIGURES_FROM_MEMORY:
        return g_strdup_printf("The figures of the table %s are %s.", table->name, table->status);
    default:
        return g_strdup_printf("The table %s says of its figures: “%s”.", table->name, table->status);
    }
}

static const char *voice_format(aperta_voice voice)
{
    switch (voice) {
    case APERTA_VOICE_WOMAN:
        return "The table %s is of women, but the voice was given as %s. A woman's resonances lie about three "
               "semitones above a man's, and a child's higher still, so the advice may be off by as much; leave "
               "--table away, or name one such as %s.";
    case APERTA_VOICE_MAN:
        return "The table %s is of men, but the voice was given as %s. A woman's resonances lie about three "
               "semitones above a man's, and a child's higher still, so the advice may be off by as much; leave "
               "--table away, or name one such as %s.";
    default:
        return "The table %s is of children, but the voice was given as %s. A woman's resonances lie about three "
               "semitones above a man's, and a child's higher still, so the advice may be off by as much; leave "
               "--table away, or name one such as %s.";
    }
}

static char *voice_sentence(const aperta_vowel_table *table, aperta_voice voice)
{
    return g_strdup_printf(voice_format(table->voice), table->name, aperta_voice_word(voice),
                           aperta_vowel_table_for_voice(voice));
}

/* ---- vowels from elsewhere --------------------------------------------------------------------------------------- */

char *words_lender(const aperta_expectation *expected)
{
    static const char *const plain[] = {
        [APERTA_VOICE_UNKNOWN] = "the table %s",
        [APERTA_VOICE_WOMAN] = "the table %s, of women",
        [APERTA_VOICE_MAN] = "the table %s, of men",
        [APERTA_VOICE_CHILD] = "the table %s, of children",
    };
    static const char *const with_status[] = {
        [APERTA_VOICE_UNKNOWN] = "the table %s (%s)",
        [APERTA_VOICE_WOMAN] = "the table %s, of women (%s)",
        [APERTA_VOICE_MAN] = "the table %s, of men (%s)",
        [APERTA_VOICE_CHILD] = "the table %s, of children (%s)",
    };

    switch (expected->lent) {
    case APERTA_LENT_TABLE:
        return g_strdup_printf(expected->lender_status != NULL ? with_status[expected->lender_voice]
                                                               : plain[expected->lender_voice],
                               expected->lender, expected->lender_status);
    case APERTA_LENT_CARDINAL:
        return g_strdup("the cardinal vowels of one man");
    case APERTA_LENT_NOT:
        break;
    }
    return NULL;
}

/* "y “ü”, ø “ö”" */
static char *list_of_vowels(const aperta_vowel *const *vowels)
{
    g_autoptr(GPtrArray) labels = g_ptr_array_new_with_free_func(g_free);

    for (guint i = 0; vowels[i] != NULL; i++)
        g_ptr_array_add(labels, words_vowel_label(vowels[i], TRUE));
    return words_join(labels, ", ", ", ");
}

static const char *lent_format(gboolean regional, gboolean several)
{
    if (regional)
        return several ? "The table %s has %s only as one region speaks it. They are taken from %s, moved as far as "
                         "the vowels that both have lie apart: less sure than the table's own."
                       : "The table %s has %s only as one region speaks it. It is taken from %s, moved as far as the "
                         "vowels that both have lie apart: less sure than the table's own.";
    return several ? "The table %s has no %s. They are taken from %s, moved as far as the vowels that both have lie "
                     "apart: less sure than the table's own."
                   : "The table %s has no %s. It is taken from %s, moved as far as the vowels that both have lie "
                     "apart: less sure than the table's own.";
}

static char *lent_sentence(const aperta_warning *warning)
{
    const aperta_expectation *expected = warning->lent.expected;
    g_autofree char *vowels = list_of_vowels(warning->vowels), *lender = words_lender(expected);
    gboolean several = warning->vowels[0] != NULL && warning->vowels[1] != NULL;

    return g_strdup_printf(lent_format(expected->regional, several), warning->lent.table->name, vowels, lender);
}

static char *not_judged_sentence(const aperta_vowel *const *vowels)
{
    g_autoptr(GPtrArray) names = g_ptr_array_new();

    for (guint i = 0; vowels[i] != NULL; i++)
        g_ptr_array_add(names, (gpointer)vowels[i]->ipa);
    g_autofree char *list = words_join(names, ", ", ", ");
    return g_strdup_printf("No table has a figure for %s, so notes on it cannot be judged.", list);
}

char *words_table_warning(const aperta_warning *warning)
{
    switch (warning->kind) {
    case APERTA_WARNING_TABLE_STATUS:
        return status_sentence(warning->table.table);
    case APERTA_WARNING_TABLE_VOICE:
        return voice_sentence(warning->table.table, warning->table.voice);
    case APERTA_WARNING_OTHER_TABLE:
        return lent_sentence(warning);
    case APERTA_WARNING_NOT_JUDGED:
        return not_judged_sentence(warning->vowels);
    default:
        return NULL;
    }
}
