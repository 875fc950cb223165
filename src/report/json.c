/* json.c - a take as JSON, schema aperta/take-1. Names are stable; members may be added.
 *
 * null says "there is none, or it cannot be told"; the status beside it says which. Hz and dB and cents are rounded to
 * 0.1, seconds to 0.001, semitones, Bark and probabilities to 0.01: finer digits would claim more than was measured. */
#include "json-writer.h"
#include "report-private.h"

enum { HZ = 1, DB = 1, CENTS = 1, SECONDS = 3, SEMITONES = 2, BARK = 2, SHARE = 2 }; /* decimals */

static const char *const resonance_names[APERTA_N_RESONANCES] = {"F1", "F2", "F3"};

static const char *ipa_or_null(const aperta_vowel *vowel)
{
    return vowel != NULL ? vowel->ipa : NULL;
}

static void write_source(json_writer *json, const aperta_result *result)
{
    json_open(json, "source", '{');
    json_text(json, "file", result->file);
    json_number(json, "seconds", result->seconds, SECONDS);
    json_integer(json, "sample_rate_hz", result->sample_rate_hz);
    json_integer(json, "channel", result->channel); /* 0: mean of all */
    json_number(json, "from_s", result->from_s, SECONDS);
    json_number(json, "to_s", result->to_s, SECONDS);
    json_close(json, '}');
}

static void write_settings(json_writer *json, const aperta_result *result)
{
    json_open(json, "settings", '{');
    json_text(json, "style", result->style);
    json_text(json, "table", result->table != NULL ? result->table->name : NULL);
    json_text(json, "singer", result->singer);
    json_text(json, "rules", result->rules_title);
    json_open_inline(json, "voice", '{');
    json_text(json, "name", aperta_voice_word(result->voice));
    json_boolean(json, "guessed", result->voice_guessed);
    json_close(json, '}');
    json_close(json, '}');
}

static void write_tuning(json_writer *json, const aperta_result *result)
{
    json_open(json, "tuning", '{');
    json_number(json, "a4_hz", result->a4_hz, HZ);
    json_boolean(json, "a4_given", result->a4_given);
    if (result->key.known) {
        json_open_inline(json, "key", '{');
        json_text(json, "tonic", aperta_key_tonic_name(&result->key));
        json_text(json, "mode", result->key.minor ? "minor" : "major");
        json_number(json, "confidence", result->key.confidence, SHARE);
        json_close(json, '}');
    } else {
        json_null(json, "key");
    }
    json_close(json, '}');
}

static void write_pitch(json_writer *json, const aperta_sung_note *note)
{
    static const char *const statuses[] = {"too_short", "straight", "measured"};
    const aperta_vibrato *vibrato = &note->note.vibrato;
    gboolean measured = vibrato->status == APERTA_VIBRATO_MEASURED;

    json_open_inline(json, "pitch", '{');
    json_text(json, "name", note->name);
    json_integer(json, "midi", note->midi);
    json_number(json, "hz", note->note.f0_hz, HZ);
    json_number(json, "cents", note->cents, CENTS);
    json_close(json, '}');
    json_open_inline(json, "vibrato", '{');
    json_text(json, "status", statuses[vibrato->status]);
    json_number_if(json, "rate_hz", measured, vibrato->rate_hz, SHARE);
    json_number_if(json, "extent_cents", measured, vibrato->extent_cents, CENTS);
    json_close(json, '}');
}

static void write_resonances(json_writer *json, const char *key, const aperta_resonance resonances[APERTA_N_RESONANCES])
{
    static const char *const statuses[] = {"unknown", "measured", "bounded"};

    json_open(json, key, '[');
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        const aperta_resonance *r = &resonances[i];
        gboolean known = r->status != APERTA_UNKNOWN;
        json_open_inline(json, NULL, '{');
        json_text(json, "name", resonance_names[i]);
        json_text(json, "status", statuses[r->status]);
        json_number_if(json, "hz", r->status == APERTA_MEASURED, r->hz, HZ);
        json_number_if(json, "low_hz", known && r->has_low, r->low_hz, HZ);
        json_number_if(json, "high_hz", known && r->has_high, r->high_hz, HZ);
        json_open(json, "alternatives", '[');
        for (int a = 0; a < r->n_alternatives; a++) {
            json_open(json, NULL, '{');
            json_number(json, "hz", r->alternatives[a].hz, HZ);
            json_number(json, "weight", r->alternatives[a].weight, SHARE);
            json_close(json, '}');
        }
        json_close(json, ']');
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void write_lpc(json_writer *json, const aperta_tract_reading *tract)
{
    json_open_inline(json, "lpc", '[');
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        json_open(json, NULL, '{');
        json_text(json, "name", resonance_names[i]);
        json_number_if(json, "hz", tract->lpc[i].status == APERTA_MEASURED, tract->lpc[i].hz, HZ);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void write_tract(json_writer *json, const aperta_sung_note *note)
{
    const aperta_tract_reading *tract = &note->tract;

    write_resonances(json, "resonances", aperta_sung_note_resonances(note));
    if (tract->glides) {
        json_open(json, "glide", '{');
        write_resonances(json, "first", tract->first);
        write_resonances(json, "last", tract->last);
        json_close(json, '}');
    } else {
        json_null(json, "glide");
    }
    write_lpc(json, tract);
    json_open(json, "harmonics", '[');
    for (int i = 0; i < tract->n_harmonics; i++) {
        json_open_inline(json, NULL, '{');
        json_integer(json, "number", tract->harmonics[i].number);
        json_number(json, "hz", tract->harmonics[i].hz, HZ);
        json_number(json, "level_db", tract->harmonics[i].level_db, DB);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void write_vowel(json_writer *json, const aperta_sung_note *note)
{
    static const char *const parts[] = {"whole", "start", "end"};

    json_open_inline(json, "vowel", '{');
    json_text(json, "heard", ipa_or_null(note->vowel.heard));
    json_number_if(json, "confidence", note->vowel.heard != NULL, note->vowel.confidence, SHARE);
    json_text(json, "next", ipa_or_null(note->vowel.next));
    json_text(json, "intended", ipa_or_null(note->intended));
    json_boolean(json, "corrected", note->corrected);
    json_text(json, "judged", parts[note->judged]);
    json_text(json, "first", ipa_or_null(note->first_vowel.heard));
    json_text(json, "last", ipa_or_null(note->last_vowel.heard));
    json_close(json, '}');
    json_number_if(json, "f1_to_f0_st", note->f1_to_f0.known, note->f1_to_f0.st, SEMITONES);
    json_number_if(json, "f1_to_2f0_st", note->f1_to_2f0.known, note->f1_to_2f0.st, SEMITONES);
}

static void write_syllable(json_writer *json, const aperta_syllable *syllable)
{
    if (syllable == NULL) {
        json_null(json, "syllable");
        return;
    }
    json_open_inline(json, "syllable", '{');
    json_text(json, "text", syllable->text);
    json_text(json, "word", syllable->word);
    json_text(json, "ipa", syllable->ipa);
    json_integer(json, "verse", syllable->verse);
    json_close(json, '}');
}

static void write_shape(json_writer *json, const aperta_shape *shape)
{
    if (shape == NULL) {
        json_null(json, "shape");
        return;
    }
    json_open(json, "shape", '{');
    json_text(json, "ipa", shape->vowel->ipa);
    json_text(json, "respelling", shape->vowel->respelling);
    json_boolean(json, "jaw_wide", shape->jaw_wide);
    json_text(json, "name", shape->name);
    json_text(json, "how", shape->how);
    json_number(json, "f1_hz", shape->f1_hz, HZ);
    json_number(json, "f2_hz", shape->f2_hz, HZ);
    json_number(json, "moved_bark", shape->moved_bark, BARK);
    json_close(json, '}');
}

static void write_advice(json_writer *json, const aperta_sung_note *note)
{
    json_open(json, "advice", '[');
    for (guint i = 0; i < report_length(note->advice); i++) {
        const aperta_finding *finding = g_ptr_array_index(note->advice, i);
        json_open(json, NULL, '{');
        json_text(json, "rule", finding->rule);
        json_text(json, "level", aperta_level_word(finding->level));
        json_text(json, "text", finding->text);
        json_text(json, "reason", finding->reason);
        json_text(json, "source", finding->source);
        write_shape(json, finding->shape);
        json_close(json, '}');
    }
    json_close(json, ']');
    if (note->explanations == NULL)
        return;
    json_open(json, "explanations", '[');
    for (guint i = 0; i < note->explanations->len; i++) {
        const aperta_explanation *explanation = g_ptr_array_index(note->explanations, i);
        json_open_inline(json, NULL, '{');
        json_text(json, "rule", explanation->rule);
        json_boolean(json, "spoke", explanation->spoke);
        json_text(json, "because", explanation->because);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void write_note(json_writer *json, const aperta_sung_note *note)
{
    json_open(json, NULL, '{');
    json_integer(json, "number", note->number);
    json_number(json, "start_s", note->note.span.start_s, SECONDS);
    json_number(json, "end_s", note->note.span.end_s, SECONDS);
    json_number(json, "steady_start_s", note->note.steady.start_s, SECONDS);
    json_number(json, "steady_end_s", note->note.steady.end_s, SECONDS);
    write_pitch(json, note);
    json_boolean(json, "accompanied", note->note.accompanied);
    write_tract(json, note);
    write_vowel(json, note);
    write_syllable(json, note->syllable);
    write_advice(json, note);
    json_close(json, '}');
}

static void write_ending(json_writer *json, const aperta_result *result)
{
    json_integer(json, "notes_removed", (int)result->n_removed);
    json_open(json, "moments", '[');
    json_close(json, ']');
    json_open(json, "cautions", '[');
    for (const char *const *caution = result->cautions; caution != NULL && *caution != NULL; caution++)
        json_text(json, NULL, *caution);
    json_close(json, ']');
    json_open(json, "warnings", '[');
    for (guint i = 0; i < report_length(result->warnings); i++) {
        const aperta_warning *warning = g_ptr_array_index(result->warnings, i);
        json_open_inline(json, NULL, '{');
        json_text(json, "code", warning->code);
        json_text(json, "text", warning->text);
        json_close(json, '}');
    }
    json_close(json, ']');
}

char *aperta_report_json(const aperta_result *result)
{
    json_writer json = {.out = g_string_new(NULL), .first = TRUE};

    json_open(&json, NULL, '{');
    json_text(&json, "schema", "aperta/take-1");
    write_source(&json, result);
    write_settings(&json, result);
    write_tuning(&json, result);
    json_open(&json, "notes", '[');
    for (guint i = 0; i < result->notes->len; i++)
        write_note(&json, report_note_at(result, i));
    json_close(&json, ']');
    write_ending(&json, result);
    json_close(&json, '}');
    g_string_append_c(json.out, '\n');
    return g_string_free(json.out, FALSE);
}
