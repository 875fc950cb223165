/* units.c - pitch, loudness and auditory scales. */
#include <aperta/base.h>

#include <math.h>

#define MIDI_A4 69.0

double aperta_hz_to_midi(double hz, double a4_hz)
{
    return MIDI_A4 + 12.0 * log2(hz / a4_hz);
}

double aperta_midi_to_hz(double midi, double a4_hz)
{
    return a4_hz * exp2((midi - MIDI_A4) / 12.0);
}

double aperta_semitones_between(double low_hz, double high_hz)
{
    return 12.0 * log2(high_hz / low_hz);
}

double aperta_cents_between(double low_hz, double high_hz)
{
    return 1200.0 * log2(high_hz / low_hz);
}

/* Traunmueller 1990: z = 26.81 f / (1960 + f) - 0.53, then z += 0.15 (2 - z) below 2 and z += 0.22 (z - 20.1) above. */
double aperta_hz_to_bark(double hz)
{
    double z = 26.81 * hz / (1960.0 + hz) - 0.53;

    if (z < 2.0)
        z += 0.15 * (2.0 - z);
    else if (z > 20.1)
        z += 0.22 * (z - 20.1);
    return z;
}

double aperta_bark_to_hz(double bark)
{
    double z = bark;

    if (z < 2.0)
        z = (z - 0.3) / 0.85;
    else if (z > 20.1)
        z = (z + 4.422) / 1.22;
    return 1960.0 * (z + 0.53) / (26.28 - z);
}

double aperta_power_to_db(double power)
{
    return power > 1e-20 ? 10.0 * log10(power) : -200.0;
}
