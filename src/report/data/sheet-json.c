/* sheet-json.c - a score's sheet as JSON, schema aperta/sheet-1. Names are stable; members may be added.
 *
 * A note has the members that it has in a take, without what only sound can tell; "resonances" then are what the table
 * expects. With several verses the notes of one follow those of the other. */
#include "report/data/json-parts.h"
#include "result/sheet-query.h"
#include "words/sheet-words.h"

#include <aperta/report.h>

static void write_parts(json_writer *json, const aperta_score *score)
{
    json_open(json, "parts", '[');
    for (guint i = 0; i < score->n_parts; i++) {
        const aperta_score_part *part = &score->parts[i];
        json_open_inline(json, NULL, '{');
        json_text(json, "id", part->id);
        json_text(json, "name", part->name);
        json_integer(json, "notes", (int)part->n_notes);
        json_integer(json, "syllables", (int)part->n_syllables);
        json_boolean(json, "read", i == score->part);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void write_source(json_writer *json, const aperta_sheet *sheet)
{
    static const char *const formats[] = {"musicxml", "midi", "text"};
    const aperta_score *score = sheet->score;

    json_open(json, "source", '{');
    json_text(json, "file", score->file);
    json_text(json, "format", formats[score->format]);
    json_text(json, "title", score->title);
    json_text(json, "composer", score->composer);
    json_text(json, "lyricist", score->lyricist);
    write_parts(json, score);
    json_boolean(json, "part_chosen", score->part_chosen);
    json_integer(json, "verses", score->n_verses);
    json_number_if(json, "tempo_bpm", score->tempo_bpm > 0.0, score->tempo_bpm, JSON_SHARE);
    json_close(json, '}');
}

static void write_left_out(json_writer *json, const aperta_score *score)
{
    json_open(json, "left_out", '[');
    for (guint i = 0; i < score->n_left_out; i++) {
        const aperta_left_out *left_out = &score->left_out[i];
        json_open_inline(json, NULL, '{');
        json_text(json, "text", left_out->text);
        if (left_out->verse > 0)
            json_integer(json, "verse", left_out->verse);
        else
            json_null(json, "verse");
        json_text(json, "bar", left_out->bar);
        json_text(json, "why", left_out->why);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void write_settings(json_writer *json, const aperta_sheet *sheet)
{
    json_open(json, "settings", '{');
    json_text(json, "style", sheet->settings.style);
    json_text(json, "table", sheet->settings.table->name);
    json_text(json, "singer", NULL);
    json_text(json, "rules", sheet->settings.rules_title);
    json_voice(json, sheet->settings.voice, sheet->settings.voice_guessed);
    json_integer(json, "octave", sheet->octave);
    json_integer(json, "transposed_semitones", sheet->transposed);
    json_close(json, '}');
}

static void write_verses(json_writer *json, const aperta_sheet *sheet)
{
    static const char *const origins[] = {"given", "score", "guessed", "unknown"};

    json_open(json, "verses", '[');
    for (guint i = 0; i < sheet->verses->len; i++) {
        const aperta_sheet_verse *verse = result_sheet_verse(sheet, i);
        json_open_inline(json, NULL, '{');
        json_integer(json, "number", verse->number);
        json_text(json, "language", verse->language);
        json_text(json, "language_from", origins[verse->from]);
        json_number_if(json, "confidence", verse->from == APERTA_LANGUAGE_GUESSED, verse->confidence, JSON_SHARE);
        json_boolean(json, "other_words_known", verse->knows_other_words);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void write_tuning(json_writer *json, const aperta_sheet *sheet)
{
    json_open(json, "tuning", '{');
    json_number(json, "a4_hz", 440.0, JSON_HZ);
    json_key(json, "key", &sheet->score->key);
    json_close(json, '}');
}

/* ---- notes ------------------------------------------------------------------------------------------------------- */

static void write_expected(json_writer *json, const aperta_expectation *expected)
{
    static const char *const names[APERTA_N_RESONANCES] = {"F1", "F2", "F3"};

    json_open(json, "resonances", '[');
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        const aperta_resonance *r = expected != NULL ? &expected->resonances[i] : NULL;
        gboolean known = r != NULL && r->status == APERTA_MEASURED;
        json_open_inline(json, NULL, '{');
        json_text(json, "name", names[i]);
        json_text(json, "status", known ? "expected" : "unknown");
        json_number_if(json, "hz", known, known ? r->hz : 0.0, JSON_HZ);
        json_number_if(json, "low_hz", known, known ? r->low_hz : 0.0, JSON_HZ);
        json_number_if(json, "high_hz", known, known ? r->high_hz : 0.0, JSON_HZ);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void write_vowel(json_writer *json, const aperta_sheet_note *note)
{
    static const char *const origins[] = {"sure", "laid_out", "own", "none"};
    const aperta_syllable_sound *sound = note->sound;
    g_autofree char *remark = sound != NULL ? aperta_sound_remark_text(&sound->remark) : NULL;

    if (sound == NULL) {
        json_null(json, "vowel");
        return;
    }
    json_open_inline(json, "vowel", '{');
    json_text(json, "intended", note->expected != NULL ? note->expected->vowel->ipa : NULL);
    json_text(json, "nucleus", sound->nucleus);
    json_text(json, "off_glide", sound->off_glide);
    json_text(json, "status", origins[sound->origin]);
    json_boolean(json, "stressed", sound->stressed);
    json_boolean(json, "goes_on", note->goes_on);
    json_text(json, "remark", remark);
    json_close(json, '}');
}

static void write_risk(json_writer *json, const aperta_word_risk *risk)
{
    if (risk == NULL) {
        json_null(json, "other_word");
        return;
    }
    json_open(json, "other_word", '{');
    json_text(json, "word", risk->word);
    json_shape(json, "instead", risk->instead);
    json_close(json, '}');
}

static void write_note(json_writer *json, const aperta_sheet_note *note)
{
    const aperta_score_note *score_note = note->score_note;
    const result_sheet_mark mark = result_sheet_mark_of(note);
    g_autofree char *sign = words_sheet_mark(&mark);

    json_open(json, NULL, '{');
    json_integer(json, "number", note->number);
    json_integer(json, "verse", note->verse);
    json_text(json, "bar", score_note->bar);
    json_number(json, "start_s", score_note->start_s, JSON_SECONDS);
    json_number(json, "end_s", score_note->end_s, JSON_SECONDS);
    json_number(json, "start_quarters", score_note->start_quarters, JSON_SECONDS);
    json_number(json, "length_quarters", score_note->length_quarters, JSON_SECONDS);
    json_boolean(json, "grace", score_note->length_quarters <= 0.0);
    json_pitch(json, score_note->name, score_note->midi, note->f0_hz, 0.0);
    json_number(json, "weight_s", note->weight_s, JSON_SECONDS);
    write_expected(json, note->expected);
    write_vowel(json, note);
    json_intervals(json, &note->f1_to_f0, &note->f1_to_2f0);
    json_syllable(json, note->syllable);
    json_advice(json, note->advice);
    json_text(json, "mark", sign);
    write_risk(json, note->risk);
    json_close(json, '}');
}

/* ---- summary ----------------------------------------------------------------------------------------------------- */

static void write_expectations(json_writer *json, const aperta_sheet *sheet)
{
    json_open(json, "vowels", '[');
    for (guint i = 0; i < sheet->expectations->len; i++) {
        const aperta_expectation *expected = aperta_expectation_at(sheet->expectations, i);
        const aperta_resonance *r = expected->resonances;
        json_open_inline(json, NULL, '{');
        json_text(json, "ipa", expected->vowel->ipa);
        json_text(json, "respelling", expected->vowel->respelling);
        json_boolean(json, "judged", expected->known);
        json_number_if(json, "f1_hz", expected->known, r[0].hz, JSON_HZ);
        json_number_if(json, "f1_sd_hz", expected->known, expected->sd_hz[0], JSON_HZ);
        json_number_if(json, "f2_hz", expected->known, r[1].hz, JSON_HZ);
        json_number_if(json, "f2_sd_hz", expected->known, expected->sd_hz[1], JSON_HZ);
        g_autofree char *lender = words_lender(expected);
        json_text(json, "from", lender);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void write_weights(json_writer *json, const aperta_sheet *sheet)
{
    json_open_inline(json, "weights", '{');
    json_number(json, "judged_s", sheet->weight_s, JSON_SECONDS);
    json_number(json, "change_s", sheet->change_s, JSON_SECONDS);
    json_number(json, "watch_s", sheet->watch_s, JSON_SECONDS);
    json_close(json, '}');
}

static void write_keys(json_writer *json, const aperta_sheet *sheet)
{
    if (sheet->keys == NULL) {
        json_null(json, "keys");
        return;
    }
    json_open(json, "keys", '[');
    for (guint i = 0; i < sheet->keys->len; i++) {
        const aperta_sheet_key *key = aperta_sheet_key_at(sheet->keys, i);
        g_autofree char *low = words_sheet_pitch_in(key, key->lowest), *high = words_sheet_pitch_in(key, key->highest);
        json_open_inline(json, NULL, '{');
        json_integer(json, "semitones", key->semitones);
        json_key(json, "key", &key->key);
        json_text(json, "lowest", low);
        json_text(json, "highest", high);
        json_boolean(json, "fits", key->fits);
        json_integer(json, "change_notes", (int)key->n_change);
        json_integer(json, "watch_notes", (int)key->n_watch);
        json_number(json, "change_s", key->change_s, JSON_SECONDS);
        json_number(json, "watch_s", key->watch_s, JSON_SECONDS);
        json_integer(json, "rank", key->rank);
        json_close(json, '}');
    }
    json_close(json, ']');
}

/* Each word of what a thing to try is about, once. */
static void write_words(json_writer *json, const aperta_try *one)
{
    g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);

    json_open_inline(json, "words", '[');
    for (guint i = 0; i < one->notes->len; i++) {
        const aperta_sheet_note *note = aperta_sheet_note_at(one->notes, i);
        if (note->word != NULL && g_hash_table_add(seen, (gpointer)note->word))
            json_text(json, NULL, note->word);
    }
    json_close(json, ']');
}

static void write_first(json_writer *json, const aperta_sheet *sheet, guint index)
{
    const aperta_try *one = aperta_try_at(sheet->first, index);
    g_autoptr(words_first) first = words_first_on_sheet(sheet, index);

    json_open(json, NULL, '{');
    json_open_inline(json, "notes", '[');
    for (guint i = 0; i < one->notes->len; i++) {
        const aperta_sheet_note *note = aperta_sheet_note_at(one->notes, i);
        json_open(json, NULL, '{');
        json_integer(json, "verse", note->verse);
        json_integer(json, "number", note->number);
        json_close(json, '}');
    }
    json_close(json, ']');
    write_words(json, one);
    json_first(json, one, first);
    json_close(json, '}');
}

static void write_summary(json_writer *json, const aperta_sheet *sheet)
{
    json_open(json, "summary", '{');
    json_open(json, "try", '[');
    for (guint i = 0; i < sheet->first->len; i++)
        write_first(json, sheet, i);
    json_close(json, ']');
    json_close(json, '}');
}

char *aperta_report_sheet_json(const aperta_sheet *sheet)
{
    json_writer json = {.out = g_string_new(NULL), .first = TRUE};

    json_open(&json, NULL, '{');
    json_text(&json, "schema", "aperta/sheet-1");
    write_source(&json, sheet);
    write_settings(&json, sheet);
    write_tuning(&json, sheet);
    write_summary(&json, sheet);
    write_verses(&json, sheet);
    json_open(&json, "notes", '[');
    for (guint i = 0; i < sheet->notes->len; i++)
        write_note(&json, result_sheet_note_at(sheet, i));
    json_close(&json, ']');
    write_left_out(&json, sheet->score);
    write_expectations(&json, sheet);
    write_weights(&json, sheet);
    write_keys(&json, sheet);
    json_ending(&json, aperta_cautions(), sheet->warnings);
    json_close(&json, '}');
    g_string_append_c(json.out, '\n');
    return g_string_free(json.out, FALSE);
}
