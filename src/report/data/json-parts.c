/* json-parts.c - members that takes and sheets write alike. */
#include "report/data/json-parts.h"
#include "result/query.h"

const char *json_ipa(const aperta_vowel *vowel)
{
    return vowel != NULL ? vowel->ipa : NULL;
}

void json_pitch(json_writer *json, const char *name, int midi, double hz, double cents)
{
    json_open_inline(json, "pitch", '{');
    json_text(json, "name", name);
    json_integer(json, "midi", midi);
    json_number(json, "hz", hz, JSON_HZ);
    json_number(json, "cents", cents, JSON_CENTS);
    json_close(json, '}');
}

void json_intervals(json_writer *json, const aperta_interval *to_f0, const aperta_interval *to_2f0)
{
    json_number_if(json, "f1_to_f0_st", to_f0->known, to_f0->st, JSON_SEMITONES);
    json_number_if(json, "f1_to_2f0_st", to_2f0->known, to_2f0->st, JSON_SEMITONES);
}

void json_syllable(json_writer *json, const aperta_syllable *syllable)
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

void json_shape(json_writer *json, const char *key, const aperta_shape *shape)
{
    if (shape == NULL) {
        json_null(json, key);
        return;
    }
    g_autofree char *name = aperta_shape_name(shape), *how = aperta_shape_how(shape);
    json_open(json, key, '{');
    json_text(json, "ipa", shape->vowel->ipa);
    json_text(json, "respelling", shape->vowel->respelling);
    json_boolean(json, "jaw_wide", shape->jaw_wide);
    json_text(json, "name", name);
    json_text(json, "how", how);
    json_number(json, "f1_hz", shape->f1_hz, JSON_HZ);
    json_number(json, "f2_hz", shape->f2_hz, JSON_HZ);
    json_number(json, "moved_bark", shape->moved_bark, JSON_BARK);
    json_close(json, '}');
}

/* Steps to the shape, with what each reaches; how to get there is told of the shape. */
static void json_ladder(json_writer *json, const GPtrArray *ladder)
{
    json_open(json, "ladder", '[');
    for (guint i = 0; i < result_length(ladder); i++) {
        const aperta_shape *step = aperta_shape_at(ladder, i);
        g_autofree char *name = aperta_shape_name(step);
        json_open_inline(json, NULL, '{');
        json_text(json, "ipa", step->vowel->ipa);
        json_text(json, "name", name);
        json_boolean(json, "jaw_wide", step->jaw_wide);
        json_number(json, "f1_hz", step->f1_hz, JSON_HZ);
        json_number(json, "f2_hz", step->f2_hz, JSON_HZ);
        json_number(json, "moved_bark", step->moved_bark, JSON_BARK);
        json_close(json, '}');
    }
    json_close(json, ']');
}

void json_first(json_writer *json, const aperta_try *one, const words_first *first)
{
    g_autofree char *text = words_first_text(first);

    json_text(json, "level", aperta_level_word(one->level));
    json_ladder(json, one->finding->ladder);
    json_number(json, "share", one->share, JSON_SHARE);
    json_number(json, "confidence", one->confidence, JSON_SHARE);
    json_text(json, "text", text);
    json_text(json, "exercise", first->exercise);
}

void json_advice(json_writer *json, const GPtrArray *advice)
{
    json_open(json, "advice", '[');
    for (guint i = 0; i < result_length(advice); i++) {
        const aperta_finding *finding = aperta_finding_at(advice, i);
        g_autofree char *text = aperta_finding_text(finding);
        json_open(json, NULL, '{');
        json_text(json, "rule", finding->rule);
        json_text(json, "level", aperta_level_word(finding->level));
        json_text(json, "text", text);
        json_text(json, "reason", finding->reason);
        json_text(json, "source", finding->source);
        json_shape(json, "shape", finding->shape);
        json_ladder(json, finding->ladder);
        json_close(json, '}');
    }
    json_close(json, ']');
}

void json_voice(json_writer *json, aperta_voice voice, gboolean guessed)
{
    json_open_inline(json, "voice", '{');
    json_text(json, "name", aperta_voice_word(voice));
    json_boolean(json, "guessed", guessed);
    json_close(json, '}');
}

static void write_key_name(json_writer *json, const aperta_key *key)
{
    json_text(json, "tonic", aperta_key_tonic_name(key));
    json_text(json, "mode", key->minor ? "minor" : "major");
}

/* Where two keys fit alike there is no one confidence. */
void json_key(json_writer *json, const char *key, const aperta_key *of)
{
    if (!of->known) {
        json_null(json, key);
        return;
    }
    json_open_inline(json, key, '{');
    write_key_name(json, of);
    if (of->has_other) {
        aperta_key other = aperta_key_other(of);
        json_null(json, "confidence");
        json_open_inline(json, "or", '{');
        write_key_name(json, &other);
        json_close(json, '}');
    } else {
        json_number(json, "confidence", of->confidence, JSON_SHARE);
    }
    json_close(json, '}');
}

void json_ending(json_writer *json, const char *const *cautions, const GPtrArray *warnings)
{
    json_open(json, "moments", '[');
    json_close(json, ']');
    json_open(json, "cautions", '[');
    for (const char *const *caution = cautions; caution != NULL && *caution != NULL; caution++)
        json_text(json, NULL, *caution);
    json_close(json, ']');
    json_open(json, "warnings", '[');
    for (guint i = 0; i < result_length(warnings); i++) {
        const aperta_warning *warning = aperta_warning_at(warnings, i);
        json_open_inline(json, NULL, '{');
        g_autofree char *text = aperta_warning_text(warning);
        json_text(json, "code", aperta_warning_code(warning));
        json_text(json, "text", text);
        json_close(json, '}');
    }
    json_close(json, ']');
}
