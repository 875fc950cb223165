/* synth-room.c - a small room: direct sound, a few reflections, a tail of decaying noise.
 *
 * Size, reflections and the tail's level (10 dB under the direct sound: a singer near the microphone) are invented. */
#include "synth-random.h"
#include "synth-voice.h"

#include <fftw3.h>
#include <math.h>
#include <string.h>

#define REFLECTIONS   6
#define FIRST_S       0.003 /* reflections come between these times after the direct sound */
#define LAST_S        0.030
#define TAIL_START_S  0.015
#define TAIL_BELOW_DB 10.0

static void fill_response(double *response, gsize n, int sample_rate_hz, double rt60_s, guint64 seed)
{
    synth_random random = synth_random_seed(seed ^ G_GUINT64_CONSTANT(0x726f6f6d));
    double decay_per_s = 3.0 * log(10.0) / rt60_s, power = 0.0;
    gsize start = (gsize)(TAIL_START_S * sample_rate_hz);

    for (gsize i = start; i < n; i++) {
        response[i] = synth_random_gauss(&random, exp(-decay_per_s * (double)i / sample_rate_hz));
        power += response[i] * response[i];
    }
    for (gsize i = start; i < n; i++)
        response[i] *= sqrt(pow(10.0, -TAIL_BELOW_DB / 10.0) / power);
    for (int j = 0; j < REFLECTIONS; j++) {
        double at_s = synth_random_uniform(&random, FIRST_S, LAST_S);
        double sign = synth_random_uniform(&random, -1.0, 1.0) < 0.0 ? -1.0 : 1.0;

        response[MIN((gsize)(at_s * sample_rate_hz), n - 1)] += sign * 0.15 * exp(-decay_per_s * at_s);
    }
    response[0] = 1.0;
}

void synth_room_apply(float *samples, gsize n, int sample_rate_hz, double rt60_s, guint64 seed)
{
    gsize tail = MAX((gsize)(rt60_s * sample_rate_hz), (gsize)(0.05 * sample_rate_hz)), size = 1;

    while (size < n + tail)
        size *= 2;
    double *sound = fftw_alloc_real(size), *response = fftw_alloc_real(size);
    fftw_complex *a = fftw_alloc_complex(size / 2 + 1), *b = fftw_alloc_complex(size / 2 + 1);
    fftw_plan forward = fftw_plan_dft_r2c_1d((int)size, sound, a, FFTW_ESTIMATE);
    fftw_plan back = fftw_plan_dft_c2r_1d((int)size, a, sound, FFTW_ESTIMATE);

    memset(sound, 0, sizeof *sound * size);
    memset(response, 0, sizeof *response * size);
    for (gsize i = 0; i < n; i++)
        sound[i] = samples[i];
    fill_response(response, tail, sample_rate_hz, rt60_s, seed);
    fftw_execute_dft_r2c(forward, response, b);
    fftw_execute(forward);
    for (gsize i = 0; i <= size / 2; i++)
        a[i] *= b[i] / (double)size;
    fftw_execute(back);
    for (gsize i = 0; i < n; i++)
        samples[i] = (float)sound[i];
    fftw_destroy_plan(forward);
    fftw_destroy_plan(back);
    fftw_free(sound);
    fftw_free(response);
    fftw_free(a);
    fftw_free(b);
}
