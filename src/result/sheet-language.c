/* sheet-language.c - the language of a verse: named by the user, by the score, or guessed from the words. */
#include "result/result-tuning.h"
#include "result/sheet-private.h"

#include <string.h>

static void warn(aperta_sheet *sheet, const aperta_sheet_verse *verse, aperta_warning warning)
{
    warning.words.verse = verse->number;
    warning.words.language = verse->language;
    result_warn(sheet->warnings, warning);
}

static void guess_language(aperta_sheet *sheet, aperta_sheet_verse *verse)
{
    g_autofree char *text = aperta_underlay_text(verse->underlay);

    verse->language = aperta_diction_guess(text, &verse->confidence);
    verse->from = verse->language != NULL ? APERTA_LANGUAGE_GUESSED : APERTA_LANGUAGE_UNKNOWN;
    if (verse->language == NULL)
        warn(sheet, verse, (aperta_warning){.kind = APERTA_WARNING_LANGUAGE_UNTOLD});
    else if (verse->confidence < RESULT_LANGUAGE_SURE)
        warn(sheet, verse, (aperta_warning){.kind = APERTA_WARNING_LANGUAGE_UNSURE});
}

static guint different_words(const char *text)
{
    g_autoptr(GHashTable) words = g_hash_table_new(g_str_hash, g_str_equal);
    g_autofree char *lower = g_utf8_strdown(text, -1);
    g_auto(GStrv) all = g_strsplit_set(lower, " \n", -1);

    for (char **word = all; *word != NULL; word++)
        if (**word != '\0')
            g_hash_table_add(words, *word);
    return g_hash_table_size(words);
}

/* A language that is named wins over the guess; where the words look like another one, that is worth a word. */
static void doubt_language(aperta_sheet *sheet, const aperta_sheet_verse *verse)
{
    g_autofree char *text = aperta_underlay_text(verse->underlay);
    double confidence;
    const char *guess = aperta_diction_guess(text, &confidence);

    if (guess == NULL || strncmp(guess, verse->language, 2) == 0 || confidence < RESULT_LANGUAGE_SURE ||
        different_words(text) < RESULT_LANGUAGE_WORDS)
        return;
    warn(sheet, verse,
         (aperta_warning){.kind = APERTA_WARNING_LANGUAGE_DOUBTFUL,
                          .words = {.looks_like = guess, .by_the_score = verse->from != APERTA_LANGUAGE_GIVEN}});
}

/* Who types a song can name another language at once; a score that somebody else wrote is read as far as it goes. */
static gboolean refuse_language(aperta_sheet *sheet, const aperta_sheet_verse *verse, const char *tag, GError **error)
{
    g_autofree char *known = g_strjoinv(", ", (char **)aperta_diction_languages());

    if (sheet->score->format == APERTA_SCORE_TEXT) {
        g_set_error(
            error, APERTA_ERROR, APERTA_ERROR_FORMAT,
            "%s: the language \"%s\" is none that Aperta can pronounce (there are %s, or a name such as German or "
            "Deutsch; --language names it too)",
            sheet->score->file, tag, known);
        return FALSE;
    }
    warn(sheet, verse, (aperta_warning){.kind = APERTA_WARNING_LANGUAGE_FOREIGN, .words = {.tag = tag}});
    return TRUE;
}

gboolean sheet_find_language(aperta_sheet *sheet, aperta_sheet_verse *verse, const char *named, GError **error)
{
    const char *tag = aperta_score_language(sheet->score, verse->number);

    verse->from = APERTA_LANGUAGE_UNKNOWN;
    if (verse->underlay->n_words == 0)
        return TRUE;
    if (named == NULL && tag == NULL) {
        guess_language(sheet, verse);
        return TRUE;
    }
    /* a name of our own: the caller's may be gone before the sheet. One that is none is refused when it is to be spoken
     */
    const char *own = aperta_diction_language(named != NULL ? named : tag);
    verse->language = own != NULL ? own : named;
    if (verse->language == NULL)
        return refuse_language(sheet, verse, tag, error);
    verse->from = named != NULL ? APERTA_LANGUAGE_GIVEN : APERTA_LANGUAGE_OF_SCORE;
    doubt_language(sheet, verse);
    return TRUE;
}
