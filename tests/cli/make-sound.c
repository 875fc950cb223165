/* make-sound KIND FILE - writes one of the good and bad recordings of the command-line tests, the same at every run.
 *
 * The WAV header is written by hand (RIFF WAVE as Microsoft and IBM published it in 1991), because most of the files
 * have to be wrong in a way that no library would write. The sung notes are harmonics under a fixed envelope: good
 * enough to be seen as notes; what they are measured as is tested elsewhere.
 */
#include <glib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { FORMAT_PCM = 1, FORMAT_FLOAT = 3 };

typedef struct {
    int sample_rate_hz;
    int n_channels;
    int format;
    int bits;
    double seconds;
    double (*sample)(double time_s, int channel);
    double promised_seconds; /* by the header; 0: the truth */
    guint32 promised_bytes;  /* the same in bytes; 0: as above */
} sound;

static void put_u16(GByteArray *bytes, guint16 value)
{
    const guint8 le[] = {(guint8)value, (guint8)(value >> 8)};
    g_byte_array_append(bytes, le, sizeof le);
}

static void put_u32(GByteArray *bytes, guint32 value)
{
    put_u16(bytes, (guint16)value);
    put_u16(bytes, (guint16)(value >> 16));
}

static void put_tag(GByteArray *bytes, const char *tag)
{
    g_byte_array_append(bytes, (const guint8 *)tag, 4);
}

static void put_header(GByteArray *bytes, const sound *what, guint32 data_bytes)
{
    guint16 frame_bytes = (guint16)(what->n_channels * what->bits / 8);

    put_tag(bytes, "RIFF");
    put_u32(bytes, data_bytes > G_MAXUINT32 - 36 ? G_MAXUINT32 : data_bytes + 36);
    put_tag(bytes, "WAVE");
    put_tag(bytes, "fmt ");
    put_u32(bytes, 16);
    put_u16(bytes, (guint16)what->format);
    put_u16(bytes, (guint16)what->n_channels);
    put_u32(bytes, (guint32)what->sample_rate_hz);
    put_u32(bytes, (guint32)what->sample_rate_hz * frame_bytes);
    put_u16(bytes, frame_bytes);
    put_u16(bytes, (guint16)what->bits);
    put_tag(bytes, "data");
    put_u32(bytes, data_bytes);
}

static void put_sample(GByteArray *bytes, const sound *what, double value)
{
    if (what->format == FORMAT_FLOAT) {
        float single = (float)value;
        guint32 raw;
        memcpy(&raw, &single, sizeof raw);
        put_u32(bytes, raw);
    } else {
        put_u16(bytes, (guint16)(gint16)lrint(32767.0 * CLAMP(value, -1.0, 1.0)));
    }
}

static GByteArray *make(const sound *what)
{
    GByteArray *bytes = g_byte_array_new();
    guint n = (guint)lrint(what->seconds * what->sample_rate_hz);
    double promised = what->promised_seconds > 0.0 ? what->promised_seconds : what->seconds;
    guint32 data_bytes = (guint32)lrint(promised * what->sample_rate_hz) * (guint32)(what->n_channels * what->bits / 8);

    put_header(bytes, what, what->promised_bytes > 0 ? what->promised_bytes : data_bytes);
    for (guint i = 0; i < n; i++)
        for (int channel = 0; channel < what->n_channels; channel++)
            put_sample(bytes, what, what->sample((double)i / what->sample_rate_hz, channel));
    return bytes;
}

/* ---- what sounds ------------------------------------------------------------------------------------------------- */

static double silence(double time_s, int channel)
{
    (void)time_s, (void)channel;
    return 0.0;
}

/* Noise that depends on nothing but time and channel (a hash after Knuth's multiplicative method). */
static double noise(double time_s, int channel)
{
    guint32 x = (guint32)llrint(time_s * 1e6) * 2654435761u + (guint32)channel * 40503u;

    x ^= x >> 15;
    x *= 2246822519u;
    x ^= x >> 13;
    return 0.3 * (x / 2147483648.0 - 1.0);
}

static double sine(double time_s, int channel)
{
    (void)channel;
    return 0.5 * sin(2.0 * G_PI * 440.0 * time_s);
}

/* One resonance of the envelope. */
static double peak(double hz, double centre_hz, double width_hz)
{
    double away = (hz - centre_hz) / width_hz;

    return 1.0 / (1.0 + away * away);
}

/* A note with the resonances of a woman's "ah" (Hillenbrand et al. 1995: about 936, 1551, 2815 Hz), no vibrato. */
static double note(double time_s, double f0_hz)
{
    double sum = 0.0;

    for (int k = 1; k * f0_hz < 3800.0; k++) {
        double hz = k * f0_hz;
        double level = peak(hz, 936.0, 90.0) + 0.5 * peak(hz, 1551.0, 110.0) + 0.2 * peak(hz, 2815.0, 160.0) + 0.02;
        sum += level / k * sin(2.0 * G_PI * hz * time_s);
    }
    return 0.3 * sum;
}

/* Three notes of 0.8 s with rests between: A3, C4, E4. */
static double sung(double time_s, int channel)
{
    static const double f0s_hz[] = {220.00, 261.63, 329.63};
    double at_s = fmod(time_s, 1.0) - 0.1;
    double fade = CLAMP(MIN(at_s, 0.8 - at_s) / 0.03, 0.0, 1.0);

    (void)channel;
    return fade * note(time_s, f0s_hz[(int)time_s % 3]);
}

static double shouted(double time_s, int channel)
{
    return CLAMP(20.0 * sung(time_s, channel), -1.0, 1.0);
}

static double not_numbers(double time_s, int channel)
{
    long at = lrint(time_s * 16000.0) % 1000;

    return at == 500 ? (double)NAN : at == 700 ? (double)INFINITY : sung(time_s, channel);
}

/* The second channel is something else, as an electroglottograph's would be. */
static double two_things(double time_s, int channel)
{
    return channel == 0 ? sung(time_s, 0) : noise(time_s, 1);
}

/* With the constant offset of a bad sound card. */
static double offset(double time_s, int channel)
{
    return sung(time_s, channel) + 0.1;
}

/* Syllables of a quarter of a second whose pitch falls by a sixth and a fifth in turn, as in speech. */
static double spoken(double time_s, int channel)
{
    double at_s = fmod(time_s, 0.25), low_hz = 110.0 + 15.0 * fmod(floor(time_s / 0.25), 2.0);
    double fade = CLAMP(MIN(at_s, 0.25 - at_s) / 0.02, 0.0, 1.0);
    double sum = 0.0;

    (void)channel;
    for (int k = 1; k <= 20; k++) { /* f0 = 1.6 low_hz at the start, falling by 2.4 low_hz a second */
        double turns = k * low_hz * (1.6 * at_s - 1.2 * at_s * at_s);
        sum += peak(k * low_hz, 700.0, 300.0) / k * sin(2.0 * G_PI * turns);
    }
    return 0.3 * fade * sum;
}

static double tones(const double *hz, gsize n, double time_s)
{
    double sum = 0.0;

    for (gsize i = 0; i < n; i++)
        sum += sin(2.0 * G_PI * hz[i] * time_s + (double)i);
    return sum;
}

/* The same three notes, and the fifth D and A an organ holds under them. */
static double with_organ(double time_s, int channel)
{
    static const double HZ[] = {146.83, 293.66, 440.5, 587.33, 220.8, 441.0, 661.5};

    return sung(time_s, channel) + 0.004 * tones(HZ, G_N_ELEMENTS(HZ), time_s);
}

static double with_hum(double time_s, int channel)
{
    static const double HZ[] = {50.0, 150.0, 250.0, 350.0};

    return sung(time_s, channel) + 0.004 * tones(HZ, G_N_ELEMENTS(HZ), time_s);
}

/* ---- the list ---------------------------------------------------------------------------------------------------- */

static const struct {
    const char *kind;
    sound what;
} kinds[] = {
    {"silence", {16000, 1, FORMAT_PCM, 16, 2.0, silence, 0.0, 0}},
    {"noise", {16000, 1, FORMAT_PCM, 16, 2.0, noise, 0.0, 0}},
    {"sine", {16000, 1, FORMAT_PCM, 16, 2.0, sine, 0.0, 0}},
    {"short", {16000, 1, FORMAT_PCM, 16, 0.05, sung, 0.0, 0}},
    {"sung", {16000, 1, FORMAT_PCM, 16, 3.0, sung, 0.0, 0}},
    {"clipped", {16000, 1, FORMAT_PCM, 16, 3.0, shouted, 0.0, 0}},
    {"telephone", {8000, 1, FORMAT_PCM, 16, 3.0, sung, 0.0, 0}},
    {"fine", {192000, 1, FORMAT_PCM, 16, 3.0, sung, 0.0, 0}},
    {"many-channels", {16000, 32, FORMAT_PCM, 16, 3.0, sung, 0.0, 0}},
    {"two-things", {16000, 2, FORMAT_PCM, 16, 3.0, two_things, 0.0, 0}},
    {"offset", {16000, 1, FORMAT_PCM, 16, 3.0, offset, 0.0, 0}},
    {"spoken", {16000, 1, FORMAT_PCM, 16, 4.0, spoken, 0.0, 0}},
    {"with-organ", {16000, 1, FORMAT_PCM, 16, 6.0, with_organ, 0.0, 0}},
    {"with-hum", {16000, 1, FORMAT_PCM, 16, 6.0, with_hum, 0.0, 0}},
    {"not-numbers", {16000, 1, FORMAT_FLOAT, 32, 3.0, not_numbers, 0.0, 0}},
    {"no-samples", {16000, 1, FORMAT_PCM, 16, 0.0, silence, 0.0, 0}},
    {"truncated", {16000, 1, FORMAT_PCM, 16, 1.0, sung, 3.0, 0}},
    {"giant-header", {16000, 1, FORMAT_PCM, 16, 1.0, sung, 0.0, 0xFFFFFFF0u}},
    {"long", {16000, 1, FORMAT_PCM, 16, 1800.0, noise, 0.0, 0}},
};

int main(int argc, char **argv)
{
    for (gsize i = 0; argc == 3 && i < G_N_ELEMENTS(kinds); i++) {
        if (strcmp(argv[1], kinds[i].kind) != 0)
            continue;
        g_autoptr(GByteArray) bytes = make(&kinds[i].what);
        g_autoptr(GError) error = NULL;
        if (g_file_set_contents(argv[2], (const char *)bytes->data, (gssize)bytes->len, &error))
            return 0;
        fprintf(stderr, "make-sound: %s\n", error->message);
        return 1;
    }
    fprintf(stderr, "usage: make-sound KIND FILE; kinds:");
    for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++)
        fprintf(stderr, " %s", kinds[i].kind);
    fprintf(stderr, "\n");
    return 2;
}
