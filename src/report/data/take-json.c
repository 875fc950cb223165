/* json.c - a take as JSON, schema aperta/take-1. Names are stable; members may be added.
 *
 * null says "there is none, or it cannot be told"; the status beside it says which. Hz and dB and cents are rounded to
 * 0.1, seconds to 0.001, semitones, Bark and probabilities to 0.01: finer digits would claim more than was measured. */
#include "report/data/json-parts.h"
#include "result/query.h"
#include "words/brief-words.h"

#include <aperta/report.h>

static const char *const resonance_names[APERTA_N_RESONANCES] = {"F1", "F2", "F3"};

static void write_source(json_writer *json, const aperta_result *result)
{
    json_open(json, "source", '{');
    json_text(json, "file", result->file);
    json_number(json, "seconds", result->seconds, JSON_SECONDS);
    json_integer(json, "sample_rate_hz", result->sample_rate_hz);
    json_integer(json, "channel", result->channel); /* 0: mean of all */
    json_number(json, "from_s", result->from_s, JSON_SECONDS);
    json_number(json, "to_s", result->to_s, JSON_SECONDS);
    json_close(json, '}');
}

static void write_settings(json_writer *json, const aperta_result *result)
{
    json_open(json, "settings", '{');
    json_text(json, "style", result->settings.style);
    json_text(json, "table", result->settings.table != NULL ? result->settings.table->name : NULL);
    json_text(json, "singer", result->singer);
    json_text(json, "rules", result->settings.rules_title);
    json_voice(json, result->settings.voice, result->settings.voice_guessed);
    json_close(json, '}');
}

static void write_tuning(json_writer *json, const aperta_result *result)
{
    json_open(json, "tuning", '{');
    json_number_if(json, "a4_hz", result_tuning_told(result), result->a4_hz, JSON_HZ);
    json_boolean(json, "a4_given", result->a4_given);
    json_key(json, "key", &result->key);
    json_close(json, '}');
}

static void write_pitch(json_writer *json, const aperta_sung_note *note)
{
    static const char *const statuses[] = {"too_short", "straight", "measured"};
    const aperta_vibrato *vibrato = &note->note.vibrato;
    gboolean measured = vibrato->status == APERTA_VIBRATO_MEASURED;

    json_pitch(json, note->name, note->midi, note->note.f0_hz, note->cents);
    json_open_inline(json, "vibrato", '{');
    json_text(json, "status", statuses[vibrato->status]);
    json_number_if(json, "rate_hz", measured, vibrato->rate_hz, JSON_SHARE);
    json_number_if(json, "extent_cents", measured, vibrato->extent_cents, JSON_CENTS);
    json_close(json, '}');
}

static void write_resonances(json_writer *json, const char *key, const aperta_resonance *resonances)
{
    static const char *const statuses[] = {"unknown", "measured", "bounded"};

    json_open(json, key, '[');
    for (int i = 0; i < APERTA_N_RESONANCES; i++) {
        const aperta_resonance *r = &resonances[i];
        gboolean known = r->status != APERTA_UNKNOWN;
        json_open_inline(json, NULL, '{');
        json_text(json, "name", resonance_names[i]);
        json_text(json, "status", statuses[r->status]);
        json_number_if(json, "hz", r->status == APERTA_MEASURED, r->hz, JSON_HZ);
        json_number_if(json, "low_hz", known && r->has_low, r->low_hz, JSON_HZ);
        json_number_if(json, "high_hz", known && r->has_high, r->high_hz, JSON_HZ);
        json_open(json, "alternatives", '[');
        for (int a = 0; a < r->n_alternatives; a++) {
            json_open(json, NULL, '{');
            json_number(json, "hz", r->alternatives[a].hz, JSON_HZ);
            json_number(json, "weight", r->alternatives[a].weight, JSON_SHARE);
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
        json_number_if(json, "hz", tract->lpc[i].status == APERTA_MEASURED, tract->lpc[i].hz, JSON_HZ);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void write_tract(json_writer *json, const aperta_sung_note *note)
{
    const aperta_tract_reading *tract = &note->tract;

    write_resonances(json, "resonances", aperta_sung_note_resonances(note));
    if (note->sharpened[0].status == APERTA_MEASURED)
        write_resonances(json, "sharpened", note->sharpened);
    else
        json_null(json, "sharpened");
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
        json_number(json, "hz", tract->harmonics[i].hz, JSON_HZ);
        json_number(json, "level_db", tract->harmonics[i].level_db, JSON_DB);
        json_close(json, '}');
    }
    json_close(json, ']');
}

static void write_class(json_writer *json, const aperta_vowel_class *vowel_class)
{
    if (!vowel_class->known) {
        json_null(json, "class");
        return;
    }
    json_open(json, "class", '{');
    json_text(json, "height", vowel_class->has_height ? aperta_height_word(vowel_class->height) : NULL);
    json_text(json, "place", vowel_class->has_place ? aperta_place_word(vowel_class->place) : NULL);
    json_number(json, "confidence", vowel_class->confidence, JSON_SHARE);
    json_close(json, '}');
}

static void write_vowel(json_writer *json, const aperta_sung_note *note)
{
    static const char *const parts[] = {"whole", "start", "end"};
    static const char *const intended_from[] = {NULL, "words", "told", "correction"};

    json_open_inline(json, "vowel", '{');
    json_text(json, "heard", json_ipa(note->vowel.heard));
    json_number_if(json, "confidence", note->vowel.heard != NULL, note->vowel.confidence, JSON_SHARE);
    json_text(json, "next", json_ipa(note->vowel.next));
    json_text(json, "intended", json_ipa(note->intended));
    json_text(json, "intended_from", intended_from[note->intended_from]);
    json_boolean(json, "corrected", note->intended_from == APERTA_INTENDED_CORRECTION);
    json_text(json, "judged", parts[note->judged]);
    json_text(json, "first", json_ipa(note->first_vowel.heard));
    json_text(json, "last", json_ipa(note->last_vowel.heard));
    write_class(json, &note->vowel.vowel_class);
    json_close(json, '}');
    json_intervals(json, &note->f1_to_f0, &note->f1_to_2f0);
}

static void write_explanations(json_writer *json, const aperta_sung_note *note)
{
    if (note->explanations == NULL)
        return;
    json_open(json, "explanations", '[');
    for (guint i = 0; i < note->explanations->len; i++) {
        const aperta_explanation *explanation = aperta_explanation_at(note->explanations, i);
        g_autofree char *because = aperta_explanation_because(explanation);
        json_open_inline(json, NULL, '{');
        json_text(json, "rule", explanation->rule);
        json_boolean(json, "spoke", explanation->spoke);
        json_text(json, "because", because);
        json_close(json, '}');
    }
    json_close(json, ']');
}

/* The other notes that it was judged together with. */
static void write_judged_with(json_writer *json, const aperta_result *result, const aperta_sung_note *note)
{
    json_open_inline(json, "judged_with", '[');
    for (guint i = 0; note->judged_with > 0 && i < result->notes->len; i++) {
        const aperta_sung_note *other = result_note_at(result, i);
        if (other != note && other->judged_with == note->judged_with)
            json_integer(json, NULL, other->number);
    }
    json_close(json, ']');
}

static void write_withheld(json_writer *json, const aperta_sung_note *note)
{
    static const char *const WORDS[] = {[APERTA_WITHHELD_COMPANY] = "company",
                                        [APERTA_WITHHELD_SEVERAL] = "several tones",
                                        [APERTA_WITHHELD_NO_VOICE] = "no voice",
                                        [APERTA_WITHHELD_ADVICE] = "advice"};

    if (note->note.withheld == APERTA_WITHHELD_NOT)
        json_null(json, "withheld");
    else
        json_text(json, "withheld", WORDS[note->note.withheld]);
}

static void write_note(json_writer *json, const aperta_result *result, const aperta_sung_note *note)
{
    static const char *const not_voice[] = {NULL, "no_overtones", "no_resonance", "odd_overtones"};

    json_open(json, NULL, '{');
    json_integer(json, "number", note->number);
    json_number(json, "start_s", note->note.span.start_s, JSON_SECONDS);
    json_number(json, "end_s", note->note.span.end_s, JSON_SECONDS);
    json_number(json, "steady_start_s", note->note.steady.start_s, JSON_SECONDS);
    json_number(json, "steady_end_s", note->note.steady.end_s, JSON_SECONDS);
    write_pitch(json, note);
    json_boolean(json, "accompanied", note->note.accompanied);
    json_text(json, "not_voice", not_voice[note->tract.sound]);
    write_withheld(json, note);
    write_tract(json, note);
    write_vowel(json, note);
    json_syllable(json, note->syllable);
    write_judged_with(json, result, note);
    json_advice(json, note->advice);
    write_explanations(json, note);
    json_close(json, '}');
}

static void write_first(json_writer *json, const aperta_result *result, guint index)
{
    const aperta_try *one = aperta_try_at(result->first, index);
    g_autoptr(words_first) first = words_first_in_take(result, index);

    json_open(json, NULL, '{');
    json_open_inline(json, "notes", '[');
    for (guint i = 0; i < one->notes->len; i++)
        json_integer(json, NULL, aperta_sung_note_at(one->notes, i)->number);
    json_close(json, ']');
    json_null(json, "words"); /* of a take without a lyric */
    json_first(json, one, first);
    json_close(json, '}');
}

static void write_summary(json_writer *json, const aperta_result *result)
{
    g_autofree char *trust = aperta_trust_text(&result->trust), *works = words_brief_works(result);

    json_open(json, "summary", '{');
    json_open(json, "try", '[');
    for (guint i = 0; i < result->first->len; i++)
        write_first(json, result, i);
    json_close(json, ']');
    json_text(json, "works", works);
    json_text(json, "trust", trust);
    json_close(json, '}');
}

char *aperta_report_json(const aperta_result *result)
{
    json_writer json = {.out = g_string_new(NULL), .first = TRUE};

    json_open(&json, NULL, '{');
    json_text(&json, "schema", "aperta/take-1");
    write_source(&json, result);
    write_settings(&json, result);
    write_tuning(&json, result);
    write_summary(&json, result);
    json_open(&json, "notes", '[');
    for (guint i = 0; i < result->notes->len; i++)
        write_note(&json, result, result_note_at(result, i));
    json_close(&json, ']');
    json_integer(&json, "notes_removed", (int)result->n_removed);
    json_ending(&json, aperta_cautions(), result->warnings);
    json_close(&json, '}');
    g_string_append_c(json.out, '\n');
    return g_string_free(json.out, FALSE);
}
