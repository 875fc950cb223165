/* synth-random.c - see synth-random.h */
#include "synth-random.h"

#include <math.h>

synth_random synth_random_seed(guint64 seed)
{
    return (synth_random){seed * G_GUINT64_CONSTANT(0x9e3779b97f4a7c15) + 1};
}

guint64 synth_random_spread(guint64 seed)
{
    synth_random random = synth_random_seed(seed);

    return synth_random_bits(&random);
}

guint64 synth_random_bits(synth_random *random)
{
    guint64 z = random->state += G_GUINT64_CONSTANT(0x9e3779b97f4a7c15);

    z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

double synth_random_uniform(synth_random *random, double low, double high)
{
    return low + (high - low) * (double)(synth_random_bits(random) >> 11) * 0x1p-53;
}

/* Box and Muller 1958; the second value is thrown away so that the state stays one number. */
double synth_random_gauss(synth_random *random, double sd)
{
    double radius = sqrt(-2.0 * log(1.0 - synth_random_uniform(random, 0.0, 1.0)));

    return sd * radius * cos(synth_random_uniform(random, 0.0, 2.0 * G_PI));
}

int synth_random_int(synth_random *random, int low, int high)
{
    return low + (int)(synth_random_bits(random) % (guint64)(high - low + 1));
}

synth_wander synth_wander_draw(synth_random *random, double low_hz, double high_hz)
{
    synth_wander wander;

    for (int i = 0; i < SYNTH_WANDER_PARTS; i++) {
        wander.hz[i] = synth_random_uniform(random, low_hz, high_hz);
        wander.phase_rad[i] = synth_random_uniform(random, 0.0, 2.0 * G_PI);
    }
    return wander;
}

double synth_wander_at(const synth_wander *wander, double time_s)
{
    double sum = 0.0;

    for (int i = 0; i < SYNTH_WANDER_PARTS; i++)
        sum += sin(2.0 * G_PI * wander->hz[i] * time_s + wander->phase_rad[i]);
    return sum * sqrt(2.0 / SYNTH_WANDER_PARTS);
}
