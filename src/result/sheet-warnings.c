/* sheet-warnings.c - what somebody should know about a score, its words and its table before believing the sheet. */
#include "dsp/dsp.h"
#include "result/result-tuning.h"
#include "result/sheet-private.h"

/* A list as an array that ends with NULL; the list is emptied. */
static gpointer taken(GPtrArray *list)
{
    g_ptr_array_add(list, NULL);
    return g_ptr_array_steal(list, NULL);
}

/* ---- the score and its words ------------------------------------------------------------------------------------- */

void sheet_warn_about_score(aperta_sheet *sheet)
{
    const aperta_score *score = sheet->score;

    for (guint i = 0; i < score->n_remarks; i++)
        result_warn(sheet->warnings, (aperta_warning){.kind = APERTA_WARNING_SCORE, .remark = &score->remarks[i]});
    if (score->n_notes == 0)
        result_warn(sheet->warnings, (aperta_warning){.kind = APERTA_WARNING_NO_NOTES});
    else if (score->n_verses == 0)
        result_warn(sheet->warnings, (aperta_warning){.kind = APERTA_WARNING_NO_WORDS});
}

void sheet_warn_about_empty_verse(aperta_sheet *sheet, int verse)
{
    result_warn(sheet->warnings,
                (aperta_warning){.kind = APERTA_WARNING_EMPTY_VERSE, .words = {.verse = verse, .score = sheet->score}});
}

static gboolean has_letters(const char *text)
{
    for (; *text != '\0'; text = g_utf8_next_char(text))
        if (g_unichar_isalnum(g_utf8_get_char(text)))
            return TRUE;
    return FALSE;
}

/* The words with syllables whose sound is of that origin, each once; a lone dash is no word. */
static GPtrArray *words_of_origin(const aperta_underlay *underlay, aperta_sound_origin origin)
{
    GPtrArray *words = g_ptr_array_new();

    for (guint i = 0; i < underlay->n_syllables; i++) {
        char *word = underlay->words[underlay->syllables[i].word].text;
        if (underlay->sounds[i].origin == origin && has_letters(word) &&
            !g_ptr_array_find_with_equal_func(words, word, g_str_equal, NULL))
            g_ptr_array_add(words, word);
    }
    return words;
}

void sheet_warn_about_sounds(aperta_sheet *sheet, const aperta_sheet_verse *verse)
{
    g_autoptr(GPtrArray) laid_out = words_of_origin(verse->underlay, APERTA_SOUND_LAID_OUT);
    g_autoptr(GPtrArray) silent = words_of_origin(verse->underlay, APERTA_SOUND_NONE);

    if (laid_out->len > 0)
        result_warn(sheet->warnings, (aperta_warning){.kind = APERTA_WARNING_LAID_OUT,
                                                      .words = {.verse = verse->number},
                                                      .names = taken(laid_out)});
    if (silent->len > 0 && verse->language != NULL)
        result_warn(sheet->warnings, (aperta_warning){.kind = APERTA_WARNING_NO_SOUND,
                                                      .words = {.verse = verse->number},
                                                      .names = taken(silent)});
}

void sheet_warn_about_other_words(aperta_sheet *sheet)
{
    for (guint i = 0; i < sheet->verses->len; i++) {
        const aperta_sheet_verse *verse = aperta_sheet_verse_at(sheet->verses, i);
        if (verse->language != NULL && !verse->knows_other_words && sheet->groups->len > 0) {
            result_warn(sheet->warnings,
                        (aperta_warning){.kind = APERTA_WARNING_NO_OTHER_WORDS,
                                         .words = {.verse = verse->number, .language = verse->language}});
            return;
        }
    }
}

/* ---- settings ---------------------------------------------------------------------------------------------------- */

static double median_midi(const aperta_score *score)
{
    g_autofree double *pitches = g_new(double, score->n_notes + 1);

    for (guint i = 0; i < score->n_notes; i++)
        pitches[i] = score->notes[i].midi;
    return dsp_quantile(pitches, score->n_notes, 0.5);
}

void sheet_warn_about_settings(aperta_sheet *sheet, const aperta_sheet_options *options)
{
    gboolean is_man = aperta_voice_group(sheet->settings.voice) == APERTA_VOICE_MAN;
    gboolean is_high = sheet->settings.voice == APERTA_VOICE_SOPRANO || sheet->highest > RESULT_BELTED_HIGHEST_MIDI;

    if (sheet->score->n_notes == 0)
        return;
    if (options->style == NULL && is_high)
        result_warn(sheet->warnings, (aperta_warning){.kind = APERTA_WARNING_STYLE_ASSUMED});
    if (is_man && sheet->octave == 0 && median_midi(sheet->score) > RESULT_MEN_MEDIAN_MAX_MIDI)
        result_warn(sheet->warnings,
                    (aperta_warning){.kind = APERTA_WARNING_LIES_HIGH, .voice = sheet->settings.voice});
}

/* ---- tables ------------------------------------------------------------------------------------------------------ */

static gboolean is_lent_likewise(const aperta_expectation *a, const aperta_expectation *b)
{
    return a->regional == b->regional && a->lent == b->lent && g_strcmp0(a->lender, b->lender) == 0;
}

/* The vowels that are taken from one other table, where expectation number first is the first of them. */
static void warn_about_lent(aperta_sheet *sheet, guint first)
{
    const aperta_expectation *expected = aperta_expectation_at(sheet->expectations, first);
    g_autoptr(GPtrArray) vowels = g_ptr_array_new();

    for (guint i = 0; i < sheet->expectations->len; i++) {
        const aperta_expectation *other = aperta_expectation_at(sheet->expectations, i);
        if (!other->known || !is_lent_likewise(other, expected))
            continue;
        if (i < first)
            return;
        g_ptr_array_add(vowels, (gpointer)other->vowel);
    }
    result_warn(sheet->warnings, (aperta_warning){.kind = APERTA_WARNING_OTHER_TABLE,
                                                  .lent = {sheet->settings.table, expected},
                                                  .vowels = taken(vowels)});
}

void sheet_warn_about_tables(aperta_sheet *sheet)
{
    g_autoptr(GPtrArray) missing = g_ptr_array_new();

    result_warn_about_table(sheet->warnings, sheet->settings.table, sheet->settings.voice);
    for (guint i = 0; i < sheet->expectations->len; i++) {
        const aperta_expectation *expected = aperta_expectation_at(sheet->expectations, i);
        if (!expected->known)
            g_ptr_array_add(missing, (gpointer)expected->vowel);
        else if (expected->lent != APERTA_LENT_NOT)
            warn_about_lent(sheet, i);
    }
    if (missing->len > 0)
        result_warn(sheet->warnings, (aperta_warning){.kind = APERTA_WARNING_NOT_JUDGED, .vowels = taken(missing)});
}
