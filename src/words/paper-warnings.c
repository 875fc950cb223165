/* paper-warnings.c - warnings as a page that is handed out says them: whoever reads it has no command line before them.
 */
#include "words/warnings.h"

static char *doubtful_on_paper(const aperta_warning *warning)
{
    const char *like = aperta_diction_language_name(warning->words.looks_like);
    const char *language = aperta_diction_language_name(warning->words.language);

    return g_strdup_printf(warning->words.by_the_score
                               ? "The words of verse %d look like %s, but the score says that they are %s."
                               : "The words of verse %d look like %s, but are read as %s.",
                           warning->words.verse, like, language);
}

static const char *voice_format(aperta_voice voice)
{
    switch (voice) {
    case APERTA_VOICE_WOMAN:
        return "The table %s is of women, but the voice is a %s: the advice may be off by about three semitones.";
    case APERTA_VOICE_MAN:
        return "The table %s is of men, but the voice is a %s: the advice may be off by about three semitones.";
    default:
        return "The table %s is of children, but the voice is a %s: the advice may be off by more than three "
               "semitones.";
    }
}

char *words_warning_on_paper(const aperta_warning *warning)
{
    switch (warning->kind) {
    case APERTA_WARNING_LANGUAGE_UNTOLD:
        return g_strdup_printf("The language of verse %d could not be told, so its vowels are not known.",
                               warning->words.verse);
    case APERTA_WARNING_LANGUAGE_FOREIGN:
        return g_strdup_printf(
            "The score says that verse %d is in the language \"%s\", which Aperta cannot pronounce, so "
            "its vowels are not known.",
            warning->words.verse, warning->words.tag);
    case APERTA_WARNING_LANGUAGE_UNSURE:
        return g_strdup_printf("The words of verse %d may be %s, but that is no more than a guess.",
                               warning->words.verse, aperta_diction_language_name(warning->words.language));
    case APERTA_WARNING_LANGUAGE_DOUBTFUL:
        return doubtful_on_paper(warning);
    case APERTA_WARNING_STYLE_ASSUMED:
        return g_strdup("No style was named, so belt was assumed.");
    case APERTA_WARNING_LIES_HIGH:
        return g_strdup_printf("The part lies high for a %s. Perhaps it is sung an octave lower than it is written.",
                               aperta_voice_word(warning->voice));
    case APERTA_WARNING_TABLE_VOICE:
        return g_strdup_printf(voice_format(warning->table.table->voice), warning->table.table->name,
                               aperta_voice_word(warning->table.voice));
    default:
        return aperta_warning_text(warning);
    }
}
