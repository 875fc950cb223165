/* bench.h - what the benches of pitch and notes share. */
#ifndef TESTS_BENCH_H
#define TESTS_BENCH_H

#include "synth-phrase.h"

#include <aperta/pitch.h>

/* Pitch and notes of a take at APERTA_AUDIO_RATE_HZ; both are the caller's. */
GArray *bench_read_notes(const float *samples, gsize n, double hop_s, aperta_f0_track **track);

/* Why a true note was not found, or a found one is not true. */
typedef enum {
    BENCH_JOINED,     /* true, but the note before it goes on over its start */
    BENCH_ABSENT,     /* true, and nothing is heard at its start */
    BENCH_MISTIMED,   /* its start is found 50 to 150 ms off */
    BENCH_MISPITCHED, /* its start is found, its pitch is not */
    BENCH_CUT,        /* found within a true note, and of its pitch */
    BENCH_BETWEEN,    /* found within a true note, of another pitch: a slide or an octave */
    BENCH_NOWHERE,    /* found where nothing is sung */
    BENCH_CAUSES
} bench_cause;

extern const char *const bench_cause_names[BENCH_CAUSES];

typedef struct {
    guint voiced, found, gross, octave, unvoiced, false_alarm; /* frames */
    guint true_notes, found_notes, matched, onset_only;
    guint causes[BENCH_CAUSES];
    guint optional, optional_found;
    guint vibrato_true, vibrato_found, straight_called;
    GArray *cents, *rate, *extent, *late_s;
} bench_score;

void bench_score_init(bench_score *s);
void bench_score_clear(bench_score *s);

/* Frames every SYNTH_TRUTH_HOP_S; a true f0 of -1 is not asked for. */
void bench_score_frames(bench_score *s, const synth_take *take, const aperta_f0_track *track);

/* Notes as in Molina et al. 2014 (ISMIR, "Evaluation framework for automatic singing transcription"): onset within 50
 * ms and pitch within 50 cents, one to one. optional, where not NULL, tells which true notes may be left out. */
void bench_score_notes(bench_score *s, const synth_take *take, const GArray *notes, const gboolean *optional);

/* Truth and reading, one below the other. */
void bench_show(const synth_take *take, const GArray *notes);

double bench_median(GArray *values);
double bench_percent(guint part, guint whole); /* NaN of nothing */

#endif
