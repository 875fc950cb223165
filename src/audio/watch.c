/* watch.c - clipping, odd channels, noise floor and hum, found while the sound goes by.
 *
 * The floor is the quietest tenth of 0.2 s blocks. Hum is the power at 50 or 60 Hz and its next two harmonics in those
 * blocks, by Goertzel's recurrence (Goertzel 1958, Amer. Math. Monthly 65:34-35). */
#include "audio-private.h"
#include "audio-tuning.h"

#include <math.h>

enum { N_MAINS = 2, N_HUM_HARMONICS = 3 };
static const int mains_hz[N_MAINS] = {50, 60};

typedef struct {
    float power;
    float hum[N_MAINS];
} floor_block;

typedef struct {
    double s1, s2, coefficient;
} goertzel;

struct audio_watch {
    int n_channels;
    int channel;
    aperta_audio_health *health;
    float *last; /* per channel: the last sample and how often it stood there in a row */
    guint *run;
    double xx, yy, xy; /* of the first two channels */
    gsize block_n, block_at;
    double block_power;
    goertzel tones[N_MAINS][N_HUM_HARMONICS];
    GArray *blocks; /* floor_block */
};

static void block_restart(audio_watch *watch)
{
    watch->block_at = 0;
    watch->block_power = 0.0;
    for (int m = 0; m < N_MAINS; m++)
        for (int h = 0; h < N_HUM_HARMONICS; h++)
            watch->tones[m][h].s1 = watch->tones[m][h].s2 = 0.0;
}

audio_watch *audio_watch_create(int n_channels, int channel, aperta_audio_health *health)
{
    audio_watch *watch = g_new0(audio_watch, 1);

    watch->n_channels = n_channels;
    watch->channel = channel;
    watch->health = health;
    watch->last = g_new0(float, n_channels);
    watch->run = g_new0(guint, n_channels);
    watch->block_n = (gsize)(AUDIO_FLOOR_BLOCK_S * APERTA_AUDIO_RATE_HZ);
    watch->blocks = g_array_new(FALSE, FALSE, sizeof(floor_block));
    for (int m = 0; m < N_MAINS; m++)
        for (int h = 0; h < N_HUM_HARMONICS; h++)
            watch->tones[m][h].coefficient = 2.0 * cos(2.0 * G_PI * mains_hz[m] * (h + 1) / APERTA_AUDIO_RATE_HZ);
    block_restart(watch);
    return watch;
}

void audio_watch_destroy(audio_watch *watch)
{
    if (watch == NULL)
        return;
    g_free(watch->last);
    g_free(watch->run);
    g_array_unref(watch->blocks);
    g_free(watch);
}

/* A flat top counts once it is AUDIO_CLIP_RUN long, then with all its samples. */
static void count_clipped(audio_watch *watch, int c, float x)
{
    if (fabsf(x) < AUDIO_CLIP_LEVEL || x != watch->last[c]) {
        watch->run[c] = 1;
    } else {
        watch->run[c]++;
        if (watch->run[c] == AUDIO_CLIP_RUN)
            watch->health->n_clipped += AUDIO_CLIP_RUN;
        else if (watch->run[c] > AUDIO_CLIP_RUN)
            watch->health->n_clipped++;
    }
    if (fabsf(x) > 1.0f && watch->run[c] < AUDIO_CLIP_RUN)
        watch->health->n_clipped++;
    watch->last[c] = x;
}

void audio_watch_raw(audio_watch *watch, float *frames, gsize n_frames)
{
    for (gsize i = 0; i < n_frames; i++) {
        float *frame = frames + i * watch->n_channels;
        for (int c = 0; c < watch->n_channels; c++) {
            if (!(fabsf(frame[c]) <= AUDIO_LARGEST)) { /* nor is NaN */
                frame[c] = 0.0f;
                watch->health->n_not_numbers++;
            }
            if (watch->channel == APERTA_AUDIO_MIX || watch->channel == c + 1)
                count_clipped(watch, c, frame[c]);
        }
        if (watch->n_channels >= 2) {
            watch->xx += (double)frame[0] * frame[0];
            watch->yy += (double)frame[1] * frame[1];
            watch->xy += (double)frame[0] * frame[1];
        }
    }
}

void audio_watch_mono(audio_watch *watch, const float *samples, gsize n)
{
    watch->health->n_samples += n;
    for (gsize i = 0; i < n; i++)
        watch->health->peak = MAX(watch->health->peak, fabs((double)samples[i]));
}

static void block_end(audio_watch *watch)
{
    floor_block block = {.power = (float)(watch->block_power / watch->block_n)};

    for (int m = 0; m < N_MAINS; m++)
        for (int h = 0; h < N_HUM_HARMONICS; h++) {
            const goertzel *g = &watch->tones[m][h];
            double power = g->s1 * g->s1 + g->s2 * g->s2 - g->coefficient * g->s1 * g->s2;
            block.hum[m] += (float)(2.0 * power / ((double)watch->block_n * watch->block_n));
        }
    g_array_append_val(watch->blocks, block);
    block_restart(watch);
}

void audio_watch_resampled(audio_watch *watch, const float *samples, gsize n)
{
    for (gsize i = 0; i < n; i++) {
        double x = samples[i];
        watch->block_power += x * x;
        for (int m = 0; m < N_MAINS; m++)
            for (int h = 0; h < N_HUM_HARMONICS; h++) {
                goertzel *g = &watch->tones[m][h];
                double s = x + g->coefficient * g->s1 - g->s2;
                g->s2 = g->s1;
                g->s1 = s;
            }
        if (++watch->block_at == watch->block_n)
            block_end(watch);
    }
}

static int by_power(gconstpointer a, gconstpointer b)
{
    float x = ((const floor_block *)a)->power;
    float y = ((const floor_block *)b)->power;

    return (x > y) - (x < y);
}

static void find_floor(audio_watch *watch)
{
    aperta_audio_health *health = watch->health;
    guint n = (guint)ceil(watch->blocks->len * AUDIO_FLOOR_SHARE);
    double power = 0.0;
    double hum[N_MAINS] = {0.0};

    g_array_sort(watch->blocks, by_power);
    for (guint i = 0; i < n; i++) {
        const floor_block *block = &g_array_index(watch->blocks, floor_block, i);
        power += block->power;
        for (int m = 0; m < N_MAINS; m++)
            hum[m] += block->hum[m];
    }
    health->floor_db = n > 0 ? aperta_power_to_db(power / n) : -200.0;
    int worst = hum[1] > hum[0] ? 1 : 0;
    health->hum_hz = power > 0.0 && hum[worst] > AUDIO_HUM_SHARE * power ? mains_hz[worst] : 0;
}

void audio_watch_finish(audio_watch *watch)
{
    double empty = pow(10.0, -AUDIO_CHANNEL_EMPTY_DB / 10.0);
    gboolean both = MIN(watch->xx, watch->yy) > empty * MAX(watch->xx, watch->yy);

    if (both && watch->xx > 0.0)
        watch->health->channels_differ = watch->xy / sqrt(watch->xx * watch->yy) < AUDIO_CHANNELS_ALIKE;
    find_floor(watch);
}
