/* trust-sentence.c - how far a take is to be trusted, in one sentence for a singer. */
#include "words/words.h"

/* ---- what there is against it ------------------------------------------------------------------------------------ */

/* "something else sounds with 3 notes" */
static char *company_words(const aperta_trust *trust, gboolean softer)
{
    guint n = trust->n_accompanied;

    if (n == trust->n_notes)
        return g_strdup(softer ? "something softer sounds with every note" : "something else sounds with every note");
    if (n == 1)
        return g_strdup(softer ? "something softer sounds with 1 note" : "something else sounds with 1 note");
    return g_strdup_printf(softer ? "something softer sounds with %u notes" : "something else sounds with %u notes", n);
}

static char *doubt_words(const aperta_trust *trust, aperta_doubt doubt)
{
    static const char *const words[] = {
        [APERTA_DOUBT_NOT_VOICE] = "what sounds can hardly be a voice",
        [APERTA_DOUBT_PERHAPS_SPOKEN] = "it may be spoken",
        [APERTA_DOUBT_SPOKEN] = "it seems to be spoken, not sung",
        [APERTA_DOUBT_NO_VOICE] = "no voice is heard in it",
        [APERTA_DOUBT_INSTRUMENT] = "it may be an instrument and no voice",
        [APERTA_DOUBT_CLIPPED] = "the recording was too loud and is clipped",
        [APERTA_DOUBT_COMPRESSED] = "the file is strongly compressed",
        [APERTA_DOUBT_SAMPLE_RATE] = "the sample rate is low",
        [APERTA_DOUBT_CHANNELS] = "the channels do not belong together",
        [APERTA_DOUBT_SOFT] = "the singing is very soft in the recording",
        [APERTA_DOUBT_HUM] = "mains hum lies under the recording",
        [APERTA_DOUBT_MUCH_NOISE] = "there is much noise or echo between the notes",
        [APERTA_DOUBT_SOME_NOISE] = "there is some noise between the notes",
        [APERTA_DOUBT_LONG_ECHO] = "the room echoes for long",
        [APERTA_DOUBT_ECHO] = "the room echoes",
        [APERTA_DOUBT_ONE_NOTE] = "one note is little to go by",
        [APERTA_DOUBT_TWO_NOTES] = "two notes are little to go by",
    };

    if (doubt == APERTA_DOUBT_COMPANY || doubt == APERTA_DOUBT_SOFT_COMPANY)
        return company_words(trust, doubt == APERTA_DOUBT_SOFT_COMPANY);
    return g_strdup(words[doubt]);
}

/* "the room echoes, it may be spoken and the sample rate is low" */
static char *doubts_joined(const aperta_trust *trust)
{
    g_autoptr(GPtrArray) doubts = g_ptr_array_new_with_free_func(g_free);

    for (guint i = 0; i < trust->n_doubts; i++)
        g_ptr_array_add(doubts, doubt_words(trust, trust->doubts[i]));
    return words_join(doubts, ", ", " and ");
}

static char *recording_words(const aperta_trust *trust)
{
    if (trust->n_doubts > 0)
        return doubts_joined(trust);
    return g_strdup(trust->rests ? "the recording is clean" : "nothing is amiss, but no rest tells of noise or echo");
}

/* ---- what became of the notes ------------------------------------------------------------------------------------ */

/* "told on 29 of 34 notes" */
static char *told_words(const aperta_trust *trust)
{
    guint n = trust->n_notes;

    if (trust->n_told == n)
        return n == 1   ? g_strdup("told on the one note")
               : n == 2 ? g_strdup("told on both notes")
                        : g_strdup_printf("told on all %u notes", n);
    if (trust->n_told == 0)
        return n == 1 ? g_strdup("not told surely on the one note")
                      : g_strdup_printf("told surely on none of %u notes", n);
    return g_strdup_printf("told on %u of %u notes", trust->n_told, n);
}

/* "told on 29 of 34 notes, on 4 only roughly, on 1 not at all" */
static char *count_words(const aperta_trust *trust)
{
    guint n = trust->n_notes, n_roughly = trust->n_roughly, n_untold = trust->n_untold;
    g_autofree char *told = told_words(trust);

    if (n_roughly == n)
        return g_strdup_printf("%s, only roughly", told);
    if (n_roughly > 0 && n_untold > 0)
        return g_strdup_printf("%s, on %u only roughly, on %u not at all", told, n_roughly, n_untold);
    if (n_roughly > 0)
        return g_strdup_printf("%s, on %u only roughly", told, n_roughly);
    if (n_untold > 0 && n_untold < n)
        return g_strdup_printf("%s, on %u not at all", told, n_untold);
    return g_steal_pointer(&told);
}

char *aperta_trust_text(const aperta_trust *trust)
{
    static const char *const formats[] = {
        [APERTA_TRUST_WELL] = "Well: %s; vowel and F1 are %s.",
        [APERTA_TRUST_PARTLY] = "In part: %s; vowel and F1 are %s.",
        [APERTA_TRUST_CARE] = "With care: %s; vowel and F1 are %s.",
    };

    if (trust->level == APERTA_TRUST_NOTHING)
        return g_strdup(trust->all_removed
                            ? "There is nothing to trust: the corrections call every sound that was found not a note."
                            : "There is nothing to trust: no singing was found.");
    g_autofree char *recording = recording_words(trust), *counts = count_words(trust);
    if (trust->n_doubts == 0 && trust->level == APERTA_TRUST_PARTLY) /* it is the notes that are doubtful */
        return g_strdup_printf("In part: %s, but vowel and F1 are %s.", recording, counts);
    return g_strdup_printf(formats[trust->level], recording, counts);
}

char *words_trust(const aperta_trust *trust)
{
    g_autofree char *text = aperta_trust_text(trust);

    if (trust->level != APERTA_TRUST_CARE)
        return g_steal_pointer(&text);
    return g_strdup_printf("%s Try the advice only as far as your ear agrees.", text);
}
