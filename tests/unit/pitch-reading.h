/* pitch-reading.h - what the tests of src/pitch share: samples in, track and notes out. */
#ifndef TESTS_PITCH_READING_H
#define TESTS_PITCH_READING_H

#include "expect.h"
#include "synth-phrase.h"

#include <aperta/pitch.h>

#define RATE_HZ 16000

typedef struct {
    aperta_f0_track *track;
    aperta_pitch_feature *features;
    GArray *notes; /* aperta_note */
} pitch_reading;

/* Pushed in portions of so many samples. */
static inline pitch_reading read_in_portions(const float *samples, gsize n, gsize portion)
{
    aperta_pitch_config config = aperta_pitch_config_default(RATE_HZ);
    g_autoptr(aperta_pitch) pitch = aperta_pitch_create(&config);
    pitch_reading r = {0};

    for (gsize i = 0; i < n; i += portion)
        aperta_pitch_push(pitch, samples + i, MIN(portion, n - i));
    r.track = aperta_pitch_finish(pitch, 0.0, &r.features);
    r.notes = aperta_pitch_notes(r.track, r.features);
    return r;
}

static inline pitch_reading read_samples(const float *samples, gsize n)
{
    return read_in_portions(samples, n, 4096);
}

static inline pitch_reading read_take(const synth_take *take)
{
    assert_int_equal(take->sample_rate_hz, RATE_HZ);
    return read_samples(take->samples, take->n_samples);
}

static inline const aperta_note *note_of(const pitch_reading *r, guint i)
{
    assert_true(i < r->notes->len);
    return &g_array_index(r->notes, aperta_note, i);
}

static inline void pitch_reading_clear(pitch_reading *r)
{
    g_clear_pointer(&r->track, aperta_f0_track_free);
    g_clear_pointer(&r->features, g_free);
    g_clear_pointer(&r->notes, g_array_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(pitch_reading, pitch_reading_clear)

/* Adds harmonics of f0 to n samples; decibels of each re amplitude, n_harmonics of them. */
static inline void add_harmonics(float *samples, gsize n, double f0_hz, double amplitude, const double *level_db,
                                 int n_harmonics)
{
    for (int k = 0; k < n_harmonics; k++) {
        double a = amplitude * pow(10.0, level_db[k] / 20.0), step = 2.0 * G_PI * f0_hz * (k + 1) / RATE_HZ;
        if (f0_hz * (k + 1) >= 0.5 * RATE_HZ)
            break;
        for (gsize i = 0; i < n; i++)
            samples[i] += (float)(a * sin(step * i + 0.7 * k * k)); /* phases that do not make a pulse */
    }
}

#endif
