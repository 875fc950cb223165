/* bench.h - what the benches share. */
#ifndef TESTS_BENCH_H
#define TESTS_BENCH_H

#include <aperta/pitch.h>

/* Pitch and notes of a take at APERTA_AUDIO_RATE_HZ; both are the caller's. */
GArray *bench_read_notes(const float *samples, gsize n, double hop_s, aperta_f0_track **track);

#endif
