/* pitch-private.h - what the files of src/pitch share. */
#ifndef PITCH_PRIVATE_H
#define PITCH_PRIVATE_H

#include "pitch/pitch-tuning.h"

#include <aperta/pitch.h>

/* A pitch that one frame may have. */
typedef struct {
    float f0_hz;
    float strength; /* compressed correlation at the period, 0..1: which octave */
    float voicing;  /* plain correlation at the period, 0..1: voiced or not */
} pitch_candidate;

typedef struct {
    pitch_candidate candidates[PITCH_CANDIDATES];
    guint8 n_candidates;
    float level_db;
    float brightness, sonority_db, change; /* as in aperta_pitch_feature; kept small, an hour has 360,000 frames */
} pitch_frame;

/* ---- candidates.c ---- */

typedef struct pitch_finder pitch_finder;

pitch_finder *pitch_finder_create(const aperta_pitch_config *config);
void pitch_finder_destroy(pitch_finder *finder);
/* Samples needed before and after the frame's centre. */
guint pitch_finder_reach(const pitch_finder *finder);
/* centre points into a buffer that holds reach samples on both sides. Allocates nothing. */
void pitch_finder_frame(pitch_finder *finder, const float *centre, pitch_frame *frame);

/* ---- refine.c ---- */

/* A better f0 near f0_hz from the phases of the harmonics, or f0_hz itself when they do not agree. samples: as above.
 */
double pitch_refine_hz(const float *centre, guint reach, int sample_rate_hz, double f0_hz);

/* ---- partials.c ---- */

typedef struct {
    guint16 tenth_hz;
    gint16 tenth_db; /* RMS re full scale */
} pitch_partial;

typedef struct pitch_partial_finder pitch_partial_finder;

pitch_partial_finder *pitch_partial_finder_create(int sample_rate_hz);
void pitch_partial_finder_destroy(pitch_partial_finder *finder);
/* Samples needed before and after the centre. */
guint pitch_partial_finder_reach(const pitch_partial_finder *finder);
/* The strongest partials about centre; returns how many. Allocates nothing. */
guint pitch_partials_find(pitch_partial_finder *finder, const float *centre, pitch_partial partials[PARTIALS_MAX]);

/* ---- framer.c ---- */

/* What one frame of the stream tells. */
typedef struct {
    pitch_frame frame;
    gboolean has_slice; /* the partials about it were looked for */
    guint n_partials;
    pitch_partial partials[PARTIALS_MAX];
} pitch_heard;

typedef struct pitch_framer pitch_framer;

pitch_framer *pitch_framer_create(const aperta_pitch_config *config);
void pitch_framer_destroy(pitch_framer *framer);
/* Samples that must follow a frame's centre before it can be read. */
guint pitch_framer_reach(const pitch_framer *framer);
guint pitch_framer_hop(const pitch_framer *framer); /* samples */
/* Takes of n samples as many as there is room for, at least one when all frames were read; returns how many. Allocates
 * nothing. */
gsize pitch_framer_push(pitch_framer *framer, const float *samples, gsize n);
/* Reads the next frame; FALSE: it needs more samples. Allocates nothing. */
gboolean pitch_framer_next(pitch_framer *framer, pitch_heard *heard);

/* ---- company.c ---- */

/* Partials of the whole take, a slice every PARTIAL_HOP_S. */
typedef struct {
    GArray *partials; /* pitch_partial */
    GArray *starts;   /* guint32: the first of each slice */
} pitch_slices;

/* Fills what partials tell (other_db to borrowed) of one feature a frame of the track. */
void pitch_find_company(const pitch_slices *slices, const aperta_f0_track *track, aperta_pitch_feature *features);

/* ---- several.c ---- */

/* Fills the field several of one feature a frame of the track. */
void pitch_find_several(const pitch_slices *slices, const aperta_f0_track *track, aperta_pitch_feature *features);

/* ---- spans.c ---- */

/* The frames of a span: the first, and one past the last, at least one. */
void pitch_span_frames(const aperta_f0_track *track, aperta_span span, guint *from, guint *to);

/* ---- strays.c ---- */

/* Drops notes (aperta_note) that nobody sang; levels, a double for each, their median levels in dB. */
void pitch_drop_strays(const aperta_f0_track *track, GArray *notes, GArray *levels);

/* ---- voice-like.c ---- */

/* RMS of the pitch of the frames from .. to - 1 about its best straight line; HUGE_VAL of fewer than 3. */
double pitch_wavering_cents(const aperta_f0_track *track, guint from, guint to);

/* ---- own-notes.c ---- */

/* Marks the notes (aperta_note) beside which something else sounds, and drops those that are not clearly the singer's.
 */
void pitch_judge_company(GArray *notes, const aperta_f0_track *track, const aperta_pitch_feature *features);

/* ---- path.c ---- */

/* The best path through n frames; fills track->frames. */
void pitch_path(const pitch_frame *frames, guint n, aperta_f0_track *track);

/* ---- tail.c ---- */

/* Makes the frames unvoiced in which only the room sounds. */
void pitch_drop_tails(aperta_f0_track *track);

/* ---- vibrato.c ---- */

typedef struct {
    double rate_hz;
    double extent_cents;
    double share;        /* of the variance explained, 0..1 */
    double cosine, sine; /* its parts about the middle, cents */
} pitch_sine;

/* The sine between VIBRATO_RATE_MIN_HZ and MAX that, with a straight line, fits n values best; n * hop_s >= 0.2. */
pitch_sine pitch_fit_sine(const double *cents, guint n, double hop_s);

/* ---- cycles.c, swings.c and smooth.c ---- */

/* The vibrato about a frame: a window of n cents, from..to, in which a sine explains the curve. */
typedef struct {
    float cycle; /* frames; 0: no vibrato */
    float share; /* of the variance that it explains */
    guint from, to;
} pitch_stretch;

/* For each of n frames of a curve, all voiced, the vibrato it belongs to. Free with g_free. */
pitch_stretch *pitch_find_vibrato(const double *cents, guint n, double hop_s);

/* The same, from the turns of the curve, for the frames that have no vibrato yet (swings.c). */
void pitch_find_swings(const double *cents, guint n, double hop_s, pitch_stretch *stretches);

/* Smooths a curve, n values: over one cycle where there is vibrato, elsewhere, or when stretches is NULL, lightly. */
void pitch_smooth(double *curve, guint n, double hop_s, const pitch_stretch *stretches);

/* Rate and extent of the vibrato in a span of the track. */
aperta_vibrato pitch_vibrato(const aperta_f0_track *track, aperta_span span);

#endif
