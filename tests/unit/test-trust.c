/* test-trust.c - the sentence that says how far a take is to be trusted: of synthetic takes whose noise and room are
 * known, and of what was noticed while reading. */
#include "expect.h"
#include "report-fixture.h"
#include "result/result-private.h"
#include "synth-phrase.h"
#include "synth-random.h"
#include "wav.h"

#include <aperta/report.h>
#include <aperta/words.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#define RATE_HZ 16000

#define assert_has(text, part)                                                                                         \
    do {                                                                                                               \
        if (strstr((text), (part)) == NULL)                                                                            \
            fail_msg("\"%s\" is not in \"%s\"", (part), (text));                                                       \
    } while (0)

/* Means of 48 women: Hillenbrand et al. 1995, JASA 97:3099-3111. */
static const double eh_hz[] = {727, 2063, 2953, 4312};

typedef struct {
    int lowest_midi;
    guint n_notes;
    double rt60_s;   /* of the room; 0: none */
    double noise_db; /* re the mean level of the take; 0: none */
    double gain;     /* beyond 1 it is clipped; 0: 1 */
} performance;

/* Half-second notes up and down, each followed by a rest of 0.6 s. */
static aperta_result *take_of(const performance *p)
{
    static const int steps[] = {0, 2, 4, 5, 4, 2, 0, 2};
    synth_table eh = synth_table_vowel(eh_hz, 4, 15.0, SYNTH_BANDWIDTHS_HAWKS_MILLER);
    synth_voice voice = synth_voice_default();
    synth_syllable syllables[G_N_ELEMENTS(steps)];
    double seconds = 0.6 + 1.1 * p->n_notes;
    GError *error = NULL;

    for (guint i = 0; i < p->n_notes; i++) {
        syllables[i] = synth_syllable_default();
        syllables[i].start_s = 0.5 + 1.1 * i;
        syllables[i].end_s = syllables[i].start_s + 0.5;
        syllables[i].midi = p->lowest_midi + steps[i];
        syllables[i].vibrato.extent_cents = p->rt60_s > 0.0 ? 0.0 : 5.0; /* what stands quite still is no voice */
        syllables[i].vowel = synth_vowel_of_table(&eh);
    }
    g_autoptr(synth_take) take = synth_phrase_sing(&voice, syllables, p->n_notes, 0.0, seconds);
    if (p->rt60_s > 0.0)
        synth_room_apply(take->samples, take->n_samples, RATE_HZ, p->rt60_s, 5);
    synth_random random = synth_random_seed(9);
    double power = 0.0;
    for (gsize k = 0; k < take->n_samples; k++)
        power += take->samples[k] * take->samples[k] / (double)take->n_samples;
    for (gsize k = 0; k < take->n_samples; k++) {
        if (p->noise_db < 0.0)
            take->samples[k] += (float)synth_random_gauss(&random, sqrt(power) * pow(10.0, p->noise_db / 20.0));
        if (p->gain > 0.0)
            take->samples[k] = (float)CLAMP(take->samples[k] * p->gain, -1.0, 1.0);
    }
    g_autofree char *path = NULL;
    g_close(g_file_open_tmp("trust-XXXXXX.wav", &path, NULL), NULL);
    assert_true(wav_write(path, take->samples, take->n_samples, RATE_HZ, "synthetic", NULL));
    aperta_result *result = aperta_take(path, &(aperta_take_options){.voice = APERTA_VOICE_WOMAN}, &error);
    g_unlink(path);
    if (result == NULL)
        fail_msg("%s", error->message);
    return result;
}

static void expect_trust(performance p, aperta_trust_level level, const char *says)
{
    g_autoptr(aperta_result) result = take_of(&p);

    g_autofree char *text = aperta_trust_text(&result->trust);

    if (result->trust.level != level)
        fail_msg("%g s, %g dB, gain %g: %s", p.rt60_s, p.noise_db, p.gain, text);
    assert_has(text, says);
    assert_null(strstr(text, "dB"));
    assert_ptr_equal(strchr(text, '.'), text + strlen(text) - 1); /* one sentence */
}

static void test_takes(void **state)
{
    (void)state;
    expect_trust((performance){.lowest_midi = 57, .n_notes = 8}, APERTA_TRUST_WELL, "Well: the recording is clean; ");
    expect_trust((performance){.lowest_midi = 57, .n_notes = 8, .noise_db = -10.0}, APERTA_TRUST_CARE, "much noise");
    expect_trust((performance){.lowest_midi = 57, .n_notes = 8, .noise_db = -24.0}, APERTA_TRUST_PARTLY, "some noise");
    expect_trust((performance){.lowest_midi = 57, .n_notes = 8, .rt60_s = 0.9}, APERTA_TRUST_PARTLY, "the room echoes");
    expect_trust((performance){.lowest_midi = 57, .n_notes = 8, .rt60_s = 2.5}, APERTA_TRUST_PARTLY, "the room echoes");
    expect_trust((performance){.lowest_midi = 57, .n_notes = 8, .gain = 30.0}, APERTA_TRUST_CARE, "is clipped");
    expect_trust((performance){.lowest_midi = 57, .n_notes = 1}, APERTA_TRUST_PARTLY, "one note is little to go by");
    expect_trust((performance){.lowest_midi = 79, .n_notes = 8}, APERTA_TRUST_PARTLY, "the recording is clean, but ");
}

/* What becomes of the notes is counted: each is one of three. */
static void test_counts(void **state)
{
    g_autoptr(aperta_result) high = take_of(&(performance){.lowest_midi = 79, .n_notes = 8});
    g_autoptr(aperta_result) low = take_of(&(performance){.lowest_midi = 57, .n_notes = 8});
    (void)state;

    assert_int_equal(high->notes->len, 8);
    g_autofree char *high_text = aperta_trust_text(&high->trust), *low_text = aperta_trust_text(&low->trust);
    assert_has(high_text, " 8 notes");
    assert_has(high_text, "only roughly");
    assert_has(low_text, "vowel and F1 are told on ");
}

static void test_what_was_noticed(void **state)
{
    static const struct {
        aperta_warning_kind kind;
        aperta_trust_level level;
        const char *says;
    } rows[] = {{APERTA_WARNING_STRONG_COMPRESSION, APERTA_TRUST_CARE, "strongly compressed"},
                {APERTA_WARNING_LOW_SAMPLE_RATE, APERTA_TRUST_CARE, "sample rate is low"},
                {APERTA_WARNING_SPOKEN, APERTA_TRUST_CARE, "spoken, not sung"},
                {APERTA_WARNING_HUM, APERTA_TRUST_PARTLY, "mains hum"}};
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(aperta_result) take = fixture_take(FALSE);
        result_warn(take->warnings, (aperta_warning){.kind = rows[i].kind});
        for (guint k = 0; k < take->notes->len; k++)
            aperta_sung_note_at(take->notes, k)->note.accompanied = k == 6;
        result_trust(take);
        g_autofree char *text = aperta_trust_text(&take->trust);
        assert_int_equal(take->trust.level, rows[i].level);
        assert_has(text, rows[i].says);
        assert_has(text, "something else sounds with 1 note");
        assert_has(text, "vowel and F1 are told on 8 of 12 notes, on 2 only roughly, on 2 not at all.");
    }
}

/* It is printed once, at the top, and stands in the data. */
static void test_rendered(void **state)
{
    g_autoptr(aperta_result) take = take_of(&(performance){.lowest_midi = 57, .n_notes = 2});
    g_autofree char *text = aperta_report_text(take, &(aperta_report_text_options){.columns = 200});
    g_autofree char *json = aperta_report_json(take);
    (void)state;

    const char *line = strstr(text, "  Trust   In part: ");
    assert_non_null(line);
    assert_true(line < strstr(text, "Note by note"));
    const char *once = strstr(line, "little to go by");
    assert_non_null(once);
    assert_null(strstr(once + 1, "little to go by"));
    assert_has(json, "\"trust\": \"In part: ");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_takes),
        cmocka_unit_test(test_counts),
        cmocka_unit_test(test_what_was_noticed),
        cmocka_unit_test(test_rendered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
