/* sheet.c - one score from its file to advice, before anybody has sung.
 *
 * The words of each verse are laid under the notes, diction says how they are sung, a table where each vowel's
 * resonances are expected, and the rules of the style what follows on each pitch. A melisma is judged on every note of
 * it, since it is sung on one vowel. Grace notes are not judged: nobody shapes a vowel in passing. */
#include "result/first.h"
#include "result/result-tuning.h"
#include "result/sheet-private.h"

typedef struct {
    const aperta_sheet_options *options;
    aperta_sheet *sheet;
    aperta_rules *rules;
    sheet_judging on;              /* the sheet once more */
    aperta_dictions *own_dictions; /* NULL: the caller's are used */
} reading;

static void reading_clear(reading *r)
{
    result_judge_free(r->on.judge);
    sheet_expect_free(r->on.expect);
    aperta_rules_free(r->rules);
    aperta_dictions_free(r->own_dictions);
    aperta_sheet_free(r->sheet);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(reading, reading_clear)

/* ---- the score --------------------------------------------------------------------------------------------------- */

enum { KEYS_MOST = 24 }; /* semitones either way */

static gboolean check_keys(const aperta_sheet_options *options, GError **error)
{
    if (!options->try_keys || (options->keys_low >= -KEYS_MOST && options->keys_high <= KEYS_MOST))
        return TRUE;
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE, "keys %d to %d are out of range (-%d to %d can be tried)",
                options->keys_low, options->keys_high, KEYS_MOST, KEYS_MOST);
    return FALSE;
}

static gboolean transpose(aperta_sheet *sheet, int semitones, GError **error)
{
    if (semitones == 0)
        return TRUE;
    sheet->transposed = semitones;
    sheet->written_tonic = aperta_score_key_tonic(sheet->score);
    return aperta_score_transpose(sheet->score, semitones, error);
}

static void find_range(aperta_sheet *sheet)
{
    for (guint i = 0; i < sheet->score->n_notes; i++) {
        int midi = sheet->score->notes[i].midi;
        sheet->lowest = i == 0 ? midi : MIN(sheet->lowest, midi);
        sheet->highest = MAX(sheet->highest, midi);
    }
}

/* ---- words ------------------------------------------------------------------------------------------------------- */

static gboolean lay_verse(const reading *r, int number, GError **error)
{
    aperta_sheet_verse *verse = g_new0(aperta_sheet_verse, 1);

    g_ptr_array_add(r->sheet->verses, verse);
    verse->number = number;
    verse->underlay = aperta_align_verse(r->sheet->score, number);
    return sheet_find_language(r->sheet, verse, r->options->language, error);
}

/* Told before the work, which would take minutes. */
static gboolean fits_a_sheet(const aperta_score *score, int n_read, GError **error)
{
    guint64 n = (guint64)score->n_notes * (guint64)MAX(n_read, 1);

    if (n <= RESULT_SHEET_NOTES_MAX)
        return TRUE;
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE,
                "%s: %" G_GUINT64_FORMAT
                " notes to sing, all verses together, are more than a sheet holds (%d): choose "
                "a verse or a part, or split the score",
                score->file, n, RESULT_SHEET_NOTES_MAX);
    return FALSE;
}

/* Numbers that the score passes over are no verses; who asks for one has it. */
static gboolean lay_verses(const reading *r, GError **error)
{
    int n = r->sheet->score->n_verses, asked = r->options->verse;

    if (!fits_a_sheet(r->sheet->score, asked > 0 ? 1 : n, error))
        return FALSE;

    if (asked > MAX(n, 1)) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE, "%s: there is no verse %d (it has %d)",
                    r->sheet->score->file, asked, n);
        return FALSE;
    }
    for (int verse = 1; verse <= n; verse++) {
        gboolean wanted = verse == asked || (asked == 0 && aperta_score_has_words(r->sheet->score, verse));
        if (wanted && !lay_verse(r, verse, error))
            return FALSE;
    }
    if (asked > 0 && n > 0 && !aperta_score_has_words(r->sheet->score, asked))
        sheet_warn_about_empty_verse(r->sheet, asked);
    return r->sheet->verses->len > 0 || lay_verse(r, 0, error);
}

/* ---- settings ---------------------------------------------------------------------------------------------------- */

static gboolean load_settings(reading *r, GError **error)
{
    const aperta_sheet_options *o = r->options;
    aperta_settings *settings = &r->sheet->settings;

    r->rules = result_load_settings(settings, o->style, o->table, o->voice, error);
    if (r->rules == NULL)
        return FALSE;
    if (settings->voice_guessed)
        settings->voice = result_guess_voice_of_score(r->sheet->score, r->sheet->lowest);
    return result_choose_table(settings, error);
}

/* ---- diction ---------------------------------------------------------------------------------------------------- */

/* NULL and no error: the language is not known. */
static aperta_diction *diction_for(reading *r, const char *language, GError **error)
{
    aperta_dictions *dictions = r->options->dictions;

    if (language == NULL)
        return NULL;
    if (dictions == NULL && r->own_dictions == NULL)
        r->own_dictions = aperta_dictions_create(r->options->word_list);
    return aperta_dictions_get(dictions != NULL ? dictions : r->own_dictions, language, error);
}

/* ---- verses ------------------------------------------------------------------------------------------------------ */

static gboolean sing_verse(reading *r, aperta_sheet_verse *verse, GError **error)
{
    aperta_sheet *sheet = r->sheet;
    GError *failure = NULL;
    aperta_diction *diction = diction_for(r, verse->language, &failure);

    if (failure != NULL) {
        g_propagate_error(error, failure);
        return FALSE;
    }
    if (diction != NULL)
        aperta_align_sing(verse->underlay, diction);
    verse->knows_other_words = diction != NULL && aperta_diction_knows_other_words(diction);
    sheet_add_notes(&r->on, verse);
    sheet_agree_in_melismas(sheet, verse->first_note, sheet->score->n_notes);
    sheet_find_risks(&r->on, verse, diction);
    if (diction != NULL)
        sheet_warn_about_sounds(sheet, verse);
    return TRUE;
}

static gboolean sing_verses(reading *r, GError **error)
{
    for (guint i = 0; i < r->sheet->verses->len; i++)
        if (!sing_verse(r, g_ptr_array_index(r->sheet->verses, i), error))
            return FALSE;
    return TRUE;
}

/* ---- the whole --------------------------------------------------------------------------------------------------- */

aperta_sheet *sheet_of_score(aperta_score *score, const aperta_sheet_options *options, GError **error)
{
    g_auto(reading) r = {.options = options, .sheet = sheet_new(score, options)};
    aperta_sheet *sheet = r.sheet;

    if (!check_keys(options, error) || !transpose(sheet, options->transpose, error))
        return NULL;
    find_range(sheet);
    sheet_warn_about_score(sheet);
    if (!lay_verses(&r, error) || !load_settings(&r, error))
        return NULL;
    r.on = (sheet_judging){sheet, sheet_expect_new(sheet, options->table != NULL),
                           result_judge_new(r.rules, &sheet->settings, &sheet->score->key)};
    if (!sing_verses(&r, error))
        return NULL;
    sheet_weigh_notes(sheet);
    sheet_find_groups(sheet);
    result_find_first_on_sheet(sheet);
    if (options->try_keys)
        sheet_try_keys(&r.on, options->keys_low, options->keys_high);
    sheet_warn_about_settings(sheet, options);
    sheet_warn_about_tables(sheet);
    sheet_warn_about_other_words(sheet);
    return g_steal_pointer(&r.sheet);
}

aperta_sheet *aperta_sheet_read(const char *path, const aperta_sheet_options *options, GError **error)
{
    const aperta_score_options how = {.part = options->part, .octave = options->octave};
    aperta_score *score = aperta_score_read(path, &how, error);

    return score != NULL ? sheet_of_score(score, options, error) : NULL;
}
