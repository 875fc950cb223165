/* sheet.c - one score from its file to advice, before anybody has sung.
 *
 * The words of each verse are laid under the notes, diction says how they are sung, a table where each vowel's
 * resonances are expected, and the rules of the style what follows on each pitch. A melisma is judged on every note of
 * it, since it is sung on one vowel. Grace notes are not judged: nobody shapes a vowel in passing. */
#include "result/result-tuning.h"
#include "result/sheet-private.h"

typedef struct {
    const aperta_sheet_options *options;
    aperta_sheet *sheet;
    aperta_rules *rules;
    sheet_expect *expect;
    result_judge *judge;
    aperta_dictions *own_dictions; /* NULL: the caller's are used */
} reading;

static void reading_clear(reading *r)
{
    result_judge_free(r->judge);
    sheet_expect_free(r->expect);
    aperta_rules_free(r->rules);
    aperta_dictions_free(r->own_dictions);
    aperta_sheet_free(r->sheet);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(reading, reading_clear)

/* ---- life -------------------------------------------------------------------------------------------------------- */

static void verse_free(gpointer data)
{
    aperta_sheet_verse *verse = data;

    aperta_underlay_free(verse->underlay);
    g_free(verse);
}

static void note_free(gpointer data)
{
    aperta_sheet_note *note = data;

    result_syllable_free(note->syllable);
    g_ptr_array_unref(note->advice);
    sheet_risk_free(note->risk);
    g_free(note);
}

static void expectation_free(gpointer data)
{
    aperta_expectation *expected = data;

    g_free(expected->lender);
    g_free(expected->lender_status);
    g_free(expected);
}

static aperta_sheet *sheet_new(aperta_score *score, const aperta_sheet_options *options)
{
    aperta_sheet *sheet = g_new0(aperta_sheet, 1);

    sheet->score = score;
    sheet->octave = options->octave;
    sheet->range_low = options->range_low;
    sheet->range_high = options->range_high;
    sheet->verses = g_ptr_array_new_with_free_func(verse_free);
    sheet->notes = g_ptr_array_new_with_free_func(note_free);
    sheet->expectations = g_ptr_array_new_with_free_func(expectation_free);
    sheet->warnings = result_warnings_new();
    return sheet;
}

void aperta_sheet_free(aperta_sheet *sheet)
{
    if (sheet == NULL)
        return;
    g_clear_pointer(&sheet->groups, g_ptr_array_unref);
    g_clear_pointer(&sheet->keys, g_ptr_array_unref);
    g_ptr_array_unref(sheet->notes);
    g_ptr_array_unref(sheet->verses);
    g_ptr_array_unref(sheet->expectations);
    g_ptr_array_unref(sheet->warnings);
    result_settings_clear(&sheet->settings);
    aperta_score_free(sheet->score);
    g_free(sheet);
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

/* Numbers that the score passes over are no verses; who asks for one has it. */
static gboolean lay_verses(const reading *r, GError **error)
{
    int n = r->sheet->score->n_verses, asked = r->options->verse;

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

static aperta_voice guess_voice(const aperta_sheet *sheet)
{
    const aperta_score *score = sheet->score;
    g_autofree aperta_note *notes = g_new0(aperta_note, score->n_notes + 1);

    if (sheet->lowest > 0 && sheet->lowest < RESULT_LOWEST_OF_WOMEN_MIDI)
        return APERTA_VOICE_MAN;
    for (guint i = 0; i < score->n_notes; i++)
        notes[i].f0_hz = aperta_midi_to_hz(score->notes[i].midi, 440.0);
    return result_guess_voice(notes, score->n_notes, NULL);
}

static gboolean load_settings(reading *r, GError **error)
{
    const aperta_sheet_options *o = r->options;
    aperta_settings *settings = &r->sheet->settings;

    r->rules = result_load_settings(settings, o->style, o->table, o->voice, error);
    if (r->rules == NULL)
        return FALSE;
    if (settings->voice_guessed)
        settings->voice = guess_voice(r->sheet);
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

/* ---- notes ------------------------------------------------------------------------------------------------------- */

/* What begins on a note; an elision is joined with the undertie that engravers use. */
static aperta_syllable *new_syllable(const aperta_underlay *underlay, const aperta_laid_note *laid)
{
    aperta_syllable *syllable = g_new0(aperta_syllable, 1);
    GString *text = g_string_new(NULL), *word = g_string_new(NULL), *ipa = g_string_new(NULL);

    for (guint i = 0, s = laid->first_begun; i < laid->n_begun; i++, s++) {
        guint own = underlay->syllables[s].word;
        g_string_append_printf(text, "%s%s", i > 0 ? "‿" : "", underlay->texts[s]);
        if (i == 0 || own != underlay->syllables[s - 1].word)
            g_string_append_printf(word, "%s%s", i > 0 ? " " : "", underlay->words[own].text);
        if (underlay->sounds[s].ipa != NULL)
            g_string_append_printf(ipa, "%s%s", ipa->len > 0 ? "‿" : "", underlay->sounds[s].ipa);
    }
    syllable->text = g_string_free(text, FALSE);
    syllable->word = g_string_free(word, FALSE);
    syllable->ipa = g_string_free(ipa, ipa->len == 0);
    syllable->verse = underlay->verse;
    return syllable;
}

static double weight_of(const aperta_score_note *note, const aperta_sheet_note *sung)
{
    gboolean word_stress = sung->sound != NULL && sung->sound->stressed;

    return (note->end_s - note->start_s) * (RESULT_WEIGHT_PLAIN + RESULT_WEIGHT_BAR * CLAMP(note->stress, 0.0, 1.0) +
                                            RESULT_WEIGHT_WORD * (word_stress ? 1.0 : 0.0));
}

/* How much of the singing can be judged, and how much asks for something. */
static void weigh(aperta_sheet *sheet)
{
    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = sheet_note(sheet, i);
        aperta_level level = aperta_findings_level(note->advice);
        if (note->expected != NULL && note->expected->known)
            sheet->weight_s += note->weight_s;
        if (level == APERTA_LEVEL_CHANGE)
            sheet->change_s += note->weight_s;
        if (level == APERTA_LEVEL_WATCH)
            sheet->watch_s += note->weight_s;
    }
}

static void expect_vowel(const reading *r, aperta_sheet_note *note)
{
    const aperta_score_note *score_note = note->score_note;
    const aperta_resonance *f1;

    if (note->sound == NULL)
        return;
    note->expected = sheet_expect_vowel(r->expect, note->sound->judged_as);
    if (note->expected == NULL || !note->expected->known)
        return;
    f1 = &note->expected->resonances[0];
    note->f1_to_f0 = (aperta_interval){TRUE, aperta_semitones_between(note->f0_hz, f1->hz)};
    note->f1_to_2f0 = (aperta_interval){TRUE, aperta_semitones_between(2.0 * note->f0_hz, f1->hz)};
    if (score_note->end_s <= score_note->start_s)
        return;
    result_question question = sheet_question(r->expect, note);
    g_ptr_array_unref(note->advice);
    note->advice = result_judge_advise(r->judge, &question, NULL);
}

static aperta_sheet_note *new_note(const reading *r, const aperta_sheet_verse *verse, guint i)
{
    const aperta_underlay *underlay = verse->underlay;
    const aperta_laid_note *laid = &underlay->notes[i];
    aperta_sheet_note *note = g_new0(aperta_sheet_note, 1);

    note->number = (int)i + 1;
    note->verse = verse->number;
    note->score_note = &r->sheet->score->notes[i];
    note->f0_hz = aperta_midi_to_hz(note->score_note->midi, 440.0);
    note->advice = g_ptr_array_new();
    if (laid->n_begun > 0)
        note->syllable = new_syllable(underlay, laid);
    if (laid->sung_on >= 0) {
        note->sound = &underlay->sounds[laid->sung_on];
        note->word = underlay->words[underlay->syllables[laid->sung_on].word].text;
        note->goes_on = laid->n_begun == 0;
    }
    note->weight_s = weight_of(note->score_note, note);
    expect_vowel(r, note);
    return note;
}

/* ---- other words that a shape would make ------------------------------------------------------------------------- */

static void find_risk(const reading *r, const aperta_sheet_verse *verse, aperta_sheet_note *note,
                      aperta_diction *diction)
{
    const aperta_underlay *underlay = verse->underlay;
    guint sung_on = (guint)underlay->notes[note->number - 1].sung_on;
    guint word = underlay->syllables[sung_on].word;
    const aperta_sheet_note *asked = note->advice_of != NULL ? note->advice_of : note;
    result_question question = sheet_question(r->expect, asked);

    note->risk =
        sheet_find_risk(r->judge, &question, diction, &underlay->spoken[word], sung_on - underlay->words[word].first);
}

static void find_risks(const reading *r, const aperta_sheet_verse *verse, aperta_diction *diction)
{
    if (diction == NULL || !aperta_diction_knows_other_words(diction))
        return;
    for (guint i = 0; i < r->sheet->score->n_notes; i++) {
        aperta_sheet_note *note = sheet_note(r->sheet, verse->first_note + i);
        if (result_shape_in(note->advice) != NULL)
            find_risk(r, verse, note, diction);
    }
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
    verse->first_note = sheet->notes->len;
    for (guint i = 0; i < sheet->score->n_notes; i++)
        g_ptr_array_add(sheet->notes, new_note(r, verse, i));
    sheet_agree_in_melismas(sheet, verse->first_note, sheet->score->n_notes);
    find_risks(r, verse, diction);
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

    if (!transpose(sheet, options->transpose, error))
        return NULL;
    find_range(sheet);
    sheet_warn_about_score(sheet);
    if (!lay_verses(&r, error) || !load_settings(&r, error))
        return NULL;
    r.expect = sheet_expect_new(sheet, options->table != NULL);
    r.judge = result_judge_new(r.rules, &sheet->settings, &sheet->score->key);
    if (!sing_verses(&r, error))
        return NULL;
    weigh(sheet);
    sheet_find_groups(sheet);
    if (options->try_keys)
        sheet_try_keys(sheet, r.expect, r.judge, options->keys_low, options->keys_high);
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
