/* report-fixture.c - made-up takes for the tests of the renderers. */
#include "report-fixture.h"
#include "advice/account.h"

#include "result/first.h"
#include "result/result-private.h"

#include <math.h>
#include <string.h>

static aperta_resonance measured(double hz, double low_hz, double high_hz)
{
    return (aperta_resonance){
        .status = APERTA_MEASURED, .hz = hz, .has_low = TRUE, .has_high = TRUE, .low_hz = low_hz, .high_hz = high_hz};
}

static aperta_resonance below(double hz)
{
    return (aperta_resonance){.status = APERTA_BOUNDED, .has_high = TRUE, .high_hz = hz};
}

/* Levels that fall by 9 dB an octave with a hill at each resonance: only to have something to draw. */
static void add_harmonics(aperta_tract_reading *tract, double f0_hz)
{
    tract->n_harmonics = MIN((int)(5500.0 / f0_hz), APERTA_HARMONICS_MAX);
    for (int i = 0; i < tract->n_harmonics; i++) {
        double hz = (i + 1) * f0_hz, level_db = -20.0 - 9.0 * log2(i + 1.0);
        for (int r = 0; r < APERTA_N_RESONANCES; r++) {
            const aperta_resonance *resonance = &tract->resonances[r];
            double centre_hz = resonance->status == APERTA_MEASURED ? resonance->hz : 500.0 + 1000.0 * r;
            level_db += 14.0 / (1.0 + pow((hz - centre_hz) / 120.0, 2.0));
        }
        tract->harmonics[i] = (aperta_harmonic){i + 1, hz, level_db};
    }
}

static aperta_sung_note *add_note(aperta_result *result, int midi, double cents, double seconds, const char *heard,
                                  double confidence, aperta_resonance f1, aperta_resonance f2)
{
    const aperta_sung_note *last =
        result->notes->len > 0 ? g_ptr_array_index(result->notes, result->notes->len - 1) : NULL;
    double start_s = last != NULL ? last->note.span.end_s + 0.12 : 0.41;
    aperta_note sung = {.span = {start_s, start_s + seconds},
                        .steady = {start_s + 0.06, start_s + seconds - 0.04},
                        .f0_hz = aperta_midi_to_hz(midi + cents / 100.0, result->a4_hz)};

    if (seconds >= 0.8)
        sung.vibrato = (aperta_vibrato){APERTA_VIBRATO_MEASURED, 5.62, 63.4};
    aperta_sung_note *note = result_note_new((int)result->notes->len + 1, &sung, result);
    note->tract.resonances[0] = f1;
    note->tract.resonances[1] = f2;
    note->tract.resonances[2] = measured(2890.0, 2790.0, 3010.0);
    note->tract.lpc[0] = measured(note->note.f0_hz * 2.0, 0.0, 0.0);
    note->tract.lpc[1] = measured(note->note.f0_hz * 4.0, 0.0, 0.0);
    add_harmonics(&note->tract, note->note.f0_hz);
    note->vowel.heard = heard != NULL ? aperta_vowel_by_ipa(heard) : NULL;
    note->vowel.confidence = confidence;
    if (f1.status == APERTA_MEASURED) {
        note->f1_to_f0 = (aperta_interval){TRUE, aperta_semitones_between(note->note.f0_hz, f1.hz)};
        note->f1_to_2f0 = (aperta_interval){TRUE, aperta_semitones_between(2.0 * note->note.f0_hz, f1.hz)};
    }
    g_ptr_array_add(result->notes, note);
    return note;
}

static aperta_finding *add_finding(aperta_sung_note *note, const char *rule, aperta_level level, char *text,
                                   const char *reason, const char *source)
{
    aperta_finding *finding = g_new0(aperta_finding, 1);

    finding->rule = g_strdup(rule);
    finding->level = level;
    finding->words = text;
    finding->reason = g_strdup(reason);
    finding->source = g_strdup(source);
    g_ptr_array_add(note->advice, finding);
    return finding;
}

static void add_opening(aperta_sung_note *note, const char *ipa, double f1_hz, double f2_hz)
{
    const aperta_resonance *f1 = &note->tract.resonances[0];
    const char *respelling = note->intended != NULL ? note->intended->respelling : note->vowel.heard->respelling;
    const aperta_vowel *vowel = aperta_vowel_by_ipa(ipa);
    char *text =
        g_strdup_printf("On %s “%s” lies %.0f semitones under the second harmonic; common practice in belt is to "
                        "open it toward “%s, jaw wide”.",
                        note->name, respelling, fabs(note->f1_to_2f0.st), vowel->respelling);
    aperta_finding *finding =
        add_finding(note, "belt-open", APERTA_LEVEL_CHANGE, text,
                    "The belt sound needs F1 near the second harmonic; a closed vowel leaves it far "
                    "below, and the note turns hooty or has to be pushed.",
                    "made up for this test");

    finding->shape = g_new0(aperta_shape, 1);
    finding->shape->vowel = vowel;
    finding->shape->jaw_wide = TRUE;
    finding->shape->jaw = APERTA_JAW_WIDE;
    finding->shape->tongue = vowel->place == APERTA_PLACE_FRONT ? APERTA_TONGUE_FORWARD : APERTA_TONGUE_LOW;
    finding->shape->lips = vowel->rounded ? APERTA_LIPS_ROUND : APERTA_LIPS_EASY;
    finding->shape->f1_hz = f1_hz;
    finding->shape->f2_hz = f2_hz;
    finding->shape->moved_bark = aperta_vowel_distance_bark(f1->status == APERTA_MEASURED ? f1->hz : 500.0,
                                                            note->tract.resonances[1].hz, f1_hz, f2_hz);
}

static void add_watch(aperta_sung_note *note)
{
    add_finding(
        note, "belt-ceiling", APERTA_LEVEL_WATCH,
        g_strdup_printf("%s is at the limit of what opening can do; a lighter mix, or a lower key, may serve better.",
                        note->name),
        "F1 is hard to raise beyond about 1 kHz.", "made up for this test");
}

aperta_result *fixture_silence(void)
{
    aperta_result *result = g_new0(aperta_result, 1);
    GError *error = NULL;

    result->file = g_strdup("takes/Lantern, verse \"two\".wav");
    result->seconds = 18.437;
    result->sample_rate_hz = 44100;
    result->to_s = 18.437;
    result->settings.style = g_strdup("belt");
    result->settings.rules_title = g_strdup("Belt: high notes sung in chest-like voice");
    result->settings.voice = APERTA_VOICE_WOMAN;
    result->settings.voice_guessed = TRUE;
    result->settings.table = aperta_vowel_table_load("hillenbrand1995-women", &error);
    g_assert_no_error(error);
    result->a4_hz = 441.23;
    result->key = (aperta_key){.known = TRUE, .tonic = 8, .confidence = 0.83};
    result->notes = g_ptr_array_new_with_free_func((GDestroyNotify)result_note_free);
    result->warnings = result_warnings_new();
    result->trust =
        (aperta_trust){.level = APERTA_TRUST_WELL, .rests = TRUE, .n_notes = 12, .n_told = 8, .n_roughly = 4};
    g_clear_pointer(&result->groups, g_ptr_array_unref);
    g_clear_pointer(&result->first, g_ptr_array_unref);
    result_find_groups(result);
    result_find_first(result);
    return result;
}

static void add_track(aperta_result *result)
{
    result->track = aperta_f0_track_new(0.01, 0.01, 4);
    result->frames = g_new0(aperta_tract_frame, 4);
    result->track->frames[0] = (aperta_f0){.confidence = 0.031f};
    result->track->frames[1] = (aperta_f0){.f0_hz = 207.652f, .confidence = 0.9f, .voiced = 1};
    result->track->frames[2] = (aperta_f0){.f0_hz = 208.0f, .confidence = 1.0f, .voiced = 1};
    result->track->frames[3] = (aperta_f0){.f0_hz = 111.0f, .confidence = 0.25f};
    result->frames[1] = (aperta_tract_frame){.hz = {731.26f, 1220.0f, 0.0f}, .known = 3};
    result->frames[2] = (aperta_tract_frame){.hz = {0.0f, 1215.5f, 2800.0f}, .known = 6};
}

/* "pitch C5 is at or above F4", "pitch C4 is below F4" */
static advice_account *pitch_account(const aperta_sung_note *note, const char *limit)
{
    advice_account *account = advice_account_new();
    advice_reason *reason = advice_account_add(account->reasons, ADVICE_REASON_COMPARED, "pitch");

    account->facts = g_new0(advice_facts, 1);
    g_strlcpy(account->facts->pitch, note->name, sizeof account->facts->pitch);
    g_strlcpy(reason->limit_pitch, limit, sizeof reason->limit_pitch);
    reason->quantity.kind = ADVICE_PITCH;
    reason->relation = note->midi < 65 ? ADVICE_LESS : ADVICE_MORE_EQUAL;
    reason->holds = TRUE;
    reason->chance = 1.0;
    return account;
}

static void explain(aperta_result *result)
{
    for (guint i = 0; i < result->notes->len; i++) {
        aperta_sung_note *note = aperta_sung_note_at(result->notes, i);
        note->explanations = g_ptr_array_new_with_free_func((GDestroyNotify)aperta_explanation_free);
        for (int rule = 0; rule < 2; rule++) {
            aperta_explanation *explanation = g_new0(aperta_explanation, 1);
            explanation->rule = g_strdup(rule == 0 ? "belt-open" : "belt-ceiling");
            explanation->spoke = aperta_sung_note_level(note) == (rule == 0 ? APERTA_LEVEL_CHANGE : APERTA_LEVEL_WATCH);
            explanation->account = pitch_account(note, "F4");
            g_ptr_array_add(note->explanations, explanation);
        }
    }
}

static void add_odd_notes(aperta_result *result)
{
    aperta_sung_note *note;

    note = add_note(result, 65, 3.0, 1.1, NULL, 0.0, (aperta_resonance){0}, (aperta_resonance){0});
    note->note.accompanied = TRUE;
    note->note.withheld = APERTA_WITHHELD_COMPANY;
    note->tract.n_harmonics = 0;
    note = add_note(result, 63, -2.0, 1.4, "ɑ", 0.66, measured(790.0, 760.0, 822.0), measured(1390.0, 1330.0, 1460.0));
    note->tract.glides = TRUE;
    memcpy(note->tract.first, note->tract.resonances, sizeof note->tract.first);
    note->tract.last[0] = measured(470.0, 440.0, 505.0);
    note->tract.last[1] = measured(2190.0, 2080.0, 2300.0);
    note->judged = APERTA_PART_START;
    note->first_vowel = note->vowel;
    note->last_vowel = (aperta_vowel_hearing){.heard = aperta_vowel_by_ipa("ɪ"), .confidence = 0.6};
    note = add_note(result, 72, 11.0, 1.3, "i", 0.9, measured(446.0, 421.0, 470.0), measured(2698.0, 2610.0, 2800.0));
    add_opening(note, "ɛ", 858.0, 2010.0);
    note = add_note(result, 73, 8.0, 0.9, "u", 0.71, measured(470.0, 430.0, 520.0), measured(1090.0, 980.0, 1210.0));
    note->tract.resonances[0].n_alternatives = 1;
    note->tract.resonances[0].alternatives[0] = (aperta_alternative){655.0, 0.21};
    add_opening(note, "ɔ", 905.0, 1230.0);
    note =
        add_note(result, 68, -31.0, 0.31, "ɪ", 0.42, measured(505.0, 430.0, 590.0), measured(2290.0, 2080.0, 2500.0));
    note->vowel.next = aperta_vowel_by_ipa("e");
    add_note(result, 77, 0.0, 0.6, NULL, 0.0, (aperta_resonance){0}, measured(1650.0, 1500.0, 1820.0));
}

aperta_result *fixture_take(gboolean explained)
{
    aperta_result *result = fixture_silence();
    aperta_sung_note *note;

    add_note(result, 56, -12.0, 1.2, "ɑ", 0.93, measured(905.0, 880.0, 931.0), measured(1490.0, 1440.0, 1545.0));
    note = add_note(result, 60, 4.0, 0.55, "i", 0.97, measured(441.0, 428.0, 455.0), measured(2742.0, 2690.0, 2800.0));
    note->note.vibrato.status = APERTA_VIBRATO_STRAIGHT;
    note->syllable = g_new0(aperta_syllable, 1);
    note->syllable->text = g_strdup("gleam, \"soft\"");
    note->syllable->verse = 1;
    note = add_note(result, 70, 7.0, 0.95, "ɑ", 0.88, measured(930.0, 895.0, 968.0), measured(1520.0, 1450.0, 1600.0));
    add_finding(note, "belt-band", APERTA_LEVEL_FINE, g_strdup("F1 sits near the second harmonic."), "in the band",
                "made up for this test");
    note = add_note(result, 72, 18.0, 1.62, "i", 0.81, measured(437.2, 409.0, 462.0), measured(2761.0, 2650.0, 2880.0));
    add_opening(note, "ɛ", 855.0, 2015.0);
    note = add_note(result, 72, -4.0, 1.0, "ɪ", 0.55, measured(540.0, 500.0, 585.0), measured(2480.0, 2390.0, 2580.0));
    note->intended_from = APERTA_INTENDED_CORRECTION;
    note->intended = aperta_vowel_by_ipa("e");
    add_opening(note, "ɛ", 851.0, 2040.0);
    note = add_note(result, 75, 22.0, 2.08, "ɑ", 0.58, below(702.4), measured(1500.0, 1380.0, 1640.0));
    note->vowel.next = aperta_vowel_by_ipa("ʌ");
    add_watch(note);
    add_odd_notes(result);
    for (guint i = 0; i < result->notes->len; i++) {
        note = g_ptr_array_index(result->notes, i);
        if (note->advice->len > 0 || note->note.accompanied)
            continue;
        note->silence = note->midi < 65 ? APERTA_SILENCE_LOW : APERTA_SILENCE_NOTHING;
        note->reach_midi = 65;
    }
    result->n_removed = 1;
    add_track(result);
    result_warn(result->warnings, (aperta_warning){.kind = APERTA_WARNING_LOW_LEVEL, .db = 47.0});
    result_warn(result->warnings,
                (aperta_warning){.kind = APERTA_WARNING_ACCOMPANIED, .notes = {.n = 1, .n_loud = 1, .n_all = 12}});
    if (explained)
        explain(result);
    g_clear_pointer(&result->groups, g_ptr_array_unref);
    g_clear_pointer(&result->first, g_ptr_array_unref);
    result_find_groups(result);
    result_find_first(result);
    return result;
}

/* Lehmer's generator: the same crowd everywhere. 0..1. */
static double chance(guint64 *seed)
{
    *seed = *seed * 48271 % 2147483647;
    return (double)*seed / 2147483647.0;
}

aperta_result *fixture_crowd(guint n)
{
    aperta_result *result = fixture_silence();
    guint64 seed = 20;

    for (guint i = 0; i < n; i++) {
        const aperta_vowel_row *row =
            &result->settings.table->rows[(guint)(chance(&seed) * result->settings.table->n_rows)];
        double f1_hz = row->hz[0] * (0.88 + 0.3 * chance(&seed)), f2_hz = row->hz[1] * (0.9 + 0.2 * chance(&seed));
        int midi = 56 + (int)(20.0 * chance(&seed));
        gboolean bounded = chance(&seed) < 0.08;
        double half = f1_hz * (0.02 + 0.1 * chance(&seed));
        aperta_sung_note *note =
            add_note(result, midi, 40.0 * (chance(&seed) - 0.5), 0.2 + 1.5 * chance(&seed), row->vowel->ipa,
                     0.4 + 0.6 * chance(&seed), bounded ? below(f1_hz) : measured(f1_hz, f1_hz - half, f1_hz + half),
                     measured(f2_hz, 0.95 * f2_hz, 1.06 * f2_hz));
        note->vowel.next = result->settings.table->rows[i % result->settings.table->n_rows].vowel;
        if (!bounded) {
            note->tract.resonances[0].n_alternatives = 1;
            note->tract.resonances[0].alternatives[0] = (aperta_alternative){1.2 * f1_hz, 0.3 * chance(&seed)};
        }
        if (midi >= 70 && !bounded && f1_hz < 600.0)
            add_opening(note, f2_hz > 1600.0 ? "ɛ" : "ɔ", 860.0 + 10.0 * (midi - 70), f2_hz > 1600.0 ? 2050.0 : 1230.0);
        else if (midi >= 74)
            add_watch(note);
    }
    g_clear_pointer(&result->groups, g_ptr_array_unref);
    g_clear_pointer(&result->first, g_ptr_array_unref);
    result_find_groups(result);
    result_find_first(result);
    return result;
}
