/* score-warnings.c - what somebody should know of a score, its words and their language before believing a sheet. */
#include "words/warnings.h"

static char *empty_verse_sentence(const aperta_score *score, int verse)
{
    g_autoptr(GString) others = g_string_new(NULL);

    for (int other = 1; other <= score->n_verses; other++)
        if (aperta_score_has_words(score, other))
            g_string_append_printf(others, others->len > 0 ? ", %d" : "%d", other);
    if (others->len == 0)
        return g_strdup_printf("Verse %d has no words under these notes; there are words of: none.", verse);
    return g_strdup_printf("Verse %d has no words under these notes; there are words of: %s.", verse, others->str);
}

/* ---- languages --------------------------------------------------------------------------------------------------- */

static char *doubtful_sentence(int verse, const char *language, const char *looks_like, gboolean by_the_score)
{
    const char *like = aperta_diction_language_name(looks_like);
    const char *format = by_the_score ? "The words of verse %d look like %s, but the score says that they are %s; if "
                                        "they are %s, say --language %.2s."
                                      : "The words of verse %d look like %s, but are read as %s; if they are %s, say "
                                        "--language %.2s.";

    return g_strdup_printf(format, verse, like, aperta_diction_language_name(language), like, looks_like);
}

static char *foreign_sentence(int verse, const char *tag)
{
    g_autofree char *known = g_strjoinv(", ", (char **)aperta_diction_languages());

    return g_strdup_printf("The score says that verse %d is in the language \"%s\", which Aperta cannot pronounce, so "
                           "its vowels are not known; name another with --language (%s).",
                           verse, tag, known);
}

/* NULL: of another kind. */
static char *language_sentence(const aperta_warning *warning)
{
    int verse = warning->words.verse;

    switch (warning->kind) {
    case APERTA_WARNING_LANGUAGE_UNTOLD:
        return g_strdup_printf("The language of verse %d cannot be told from its words, so its vowels are not known; "
                               "name it with --language.",
                               verse);
    case APERTA_WARNING_LANGUAGE_FOREIGN:
        return foreign_sentence(verse, warning->words.tag);
    case APERTA_WARNING_LANGUAGE_UNSURE:
        return g_strdup_printf("The words of verse %d may be %s, but that is no more than a guess; name the language "
                               "with --language.",
                               verse, aperta_diction_language_name(warning->words.language));
    case APERTA_WARNING_LANGUAGE_DOUBTFUL:
        return doubtful_sentence(verse, warning->words.language, warning->words.looks_like,
                                 warning->words.by_the_score);
    case APERTA_WARNING_NO_OTHER_WORDS:
        return g_strdup_printf("For %s there is no list of words, so nobody has looked whether an advised shape makes "
                               "another word.",
                               aperta_diction_language_name(warning->words.language));
    default:
        return NULL;
    }
}

/* ---- words ------------------------------------------------------------------------------------------------------- */

static char *listed_sentence(const aperta_warning *warning)
{
    g_autofree char *names = g_strjoinv(", ", (char **)(gpointer)warning->names);

    if (warning->kind == APERTA_WARNING_LAID_OUT)
        return g_strdup_printf("The score cuts some words of verse %d otherwise than they are spoken; which vowel "
                               "falls on which of their notes was decided here: %s.",
                               warning->words.verse, names);
    return g_strdup_printf("How these are sung in verse %d is not known: %s.", warning->words.verse, names);
}

char *words_score_warning(const aperta_warning *warning)
{
    switch (warning->kind) {
    case APERTA_WARNING_SCORE:
        return aperta_score_remark_text(warning->remark);
    case APERTA_WARNING_NO_NOTES:
        return g_strdup("The score has no notes of a voice.");
    case APERTA_WARNING_NO_WORDS:
        return g_strdup("Without words no vowel is known; only the pitches are shown.");
    case APERTA_WARNING_EMPTY_VERSE:
        return empty_verse_sentence(warning->words.score, warning->words.verse);
    case APERTA_WARNING_LAID_OUT:
    case APERTA_WARNING_NO_SOUND:
        return listed_sentence(warning);
    case APERTA_WARNING_STYLE_ASSUMED:
        return g_strdup("No style was named, so belt was assumed; for legit or classical singing say so with --style.");
    case APERTA_WARNING_LIES_HIGH:
        return g_strdup_printf("The part lies high for a %s. If it is written an octave higher than it is sung, as in "
                               "a treble clef, say --octave -1.",
                               aperta_voice_word(warning->voice));
    default:
        return language_sentence(warning);
    }
}
