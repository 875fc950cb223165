/* sheet-language.c - the language of a verse: named by the user, by the score, or guessed from the words. */
#include "result/result-tuning.h"
#include "result/sheet-private.h"

#include <string.h>

static void guess_language(aperta_sheet *sheet, aperta_sheet_verse *verse)
{
    g_autofree char *text = aperta_underlay_text(verse->underlay);

    verse->language = aperta_diction_guess(text, &verse->confidence);
    verse->from = verse->language != NULL ? APERTA_LANGUAGE_GUESSED : APERTA_LANGUAGE_UNKNOWN;
    if (verse->language == NULL)
        sheet_warn(sheet, "language-unknown",
                   "The language of verse %d cannot be told from its words, so its vowels are not known; name it with "
                   "--language.",
                   verse->number);
    else if (verse->confidence < RESULT_LANGUAGE_SURE)
        sheet_warn(sheet, "language-unsure",
                   "The words of verse %d may be %s, but that is no more than a guess; name the "
                   "language with --language.",
                   verse->number, aperta_diction_language_name(verse->language));
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
    sheet_warn(sheet, "language-doubtful",
               "The words of verse %d look like %s, but %s %s; if they are %s, say --language %.2s.", verse->number,
               aperta_diction_language_name(guess),
               verse->from == APERTA_LANGUAGE_GIVEN ? "are read as" : "the score says that they are",
               aperta_diction_language_name(verse->language), aperta_diction_language_name(guess), guess);
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
    sheet_warn(
        sheet, "language-unknown",
        "The score says that verse %d is in the language \"%s\", which Aperta cannot pronounce, so its vowels are "
        "not known; name another with --language (%s).",
        verse->number, tag, known);
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
    verse->language = named != NULL ? named : aperta_diction_language(tag);
    if (verse->language == NULL)
        return refuse_language(sheet, verse, tag, error);
    verse->from = named != NULL ? APERTA_LANGUAGE_GIVEN : APERTA_LANGUAGE_OF_SCORE;
    doubt_language(sheet, verse);
    return TRUE;
}
