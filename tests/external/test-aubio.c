/* test-aubio.c - our pitch and that of libaubio's yinfft (Brossier 2006, thesis, Queen Mary University of London) on
 * the demo take. Both may be wrong alone; where they hear a voice at the same time they have to agree. */
#include "expect.h"

#include <aperta/audio.h>
#include <aperta/pitch.h>
#include <glib/gstdio.h>

#ifdef HAVE_AUBIO
#include <aubio/aubio.h>
#include <sndfile.h>

/* The sound as it is sung for yinfft, whose window is meant for that rate: brought to 16 kHz it takes one in twenty
 * frames an octave or more too low. */
#define FILE_RATE_HZ 44100
#define HOP          441  /* samples: 10 ms, as our frames */
#define WINDOW       2048 /* aubio's own choice for yinfft, as all the rest that is not set */

typedef struct {
    char *folder, *path;
} demo_file;

static demo_file sing_demo(void)
{
    demo_file demo = {.folder = g_dir_make_tmp("aperta-aubio-XXXXXX", NULL)};
    int status = -1;

    demo.path = g_build_filename(demo.folder, "demo.wav", NULL);
    char *arguments[] = {g_strdup(DEMO_SING), g_strdup(DEMO_SONG), g_strdup(demo.path), NULL};
    assert_true(g_spawn_sync(NULL, arguments, NULL, G_SPAWN_STDOUT_TO_DEV_NULL, NULL, NULL, NULL, NULL, &status, NULL));
    for (int i = 0; i < 3; i++)
        g_free(arguments[i]);
    assert_int_equal(status, 0);
    return demo;
}

static void remove_demo(demo_file *demo)
{
    g_unlink(demo->path);
    g_rmdir(demo->folder);
    g_free(demo->path);
    g_free(demo->folder);
}

static aperta_f0_track *our_track(const char *path)
{
    aperta_pitch_config config = aperta_pitch_config_default(APERTA_AUDIO_RATE_HZ);
    g_autoptr(aperta_pitch) pitch = aperta_pitch_create(&config);
    g_autoptr(aperta_audio) audio = aperta_audio_open(path, &(aperta_audio_options){0}, NULL);
    float block[4096];
    gssize n;

    assert_non_null(audio);
    while ((n = aperta_audio_read(audio, block, G_N_ELEMENTS(block), NULL)) > 0)
        aperta_pitch_push(pitch, block, n);
    return aperta_pitch_finish(pitch, 0.0, NULL);
}

/* f0 in Hz a hop, 0 where aubio hears none. */
static GArray *their_track(const char *path)
{
    GArray *track = g_array_new(FALSE, TRUE, sizeof(float));
    SF_INFO info = {0};
    SNDFILE *file = sf_open(path, SFM_READ, &info);
    aubio_pitch_t *pitch = new_aubio_pitch("yinfft", WINDOW, HOP, FILE_RATE_HZ);
    fvec_t *in = new_fvec(HOP), *out = new_fvec(1);

    assert_non_null(file);
    assert_int_equal(info.samplerate, FILE_RATE_HZ);
    assert_int_equal(info.channels, 1);
    aubio_pitch_set_unit(pitch, "Hz");
    while (sf_readf_float(file, in->data, HOP) == HOP) {
        aubio_pitch_do(pitch, in, out);
        float hz = fvec_get_sample(out, 0);
        g_array_append_val(track, hz);
    }
    sf_close(file);
    del_fvec(in);
    del_fvec(out);
    del_aubio_pitch(pitch);
    return track;
}

/* The window ends with the hop and stands for the middle of its samples. */
static void test_agreement(void **state)
{
    demo_file demo = sing_demo();
    g_autoptr(aperta_f0_track) ours = our_track(demo.path);
    g_autoptr(GArray) theirs = their_track(demo.path);
    guint both = 0, agree = 0;
    (void)state;

    remove_demo(&demo);
    for (guint i = 0; i < theirs->len; i++) {
        float hz = g_array_index(theirs, float, i);
        double middle_s = ((i + 1.0) * HOP - WINDOW / 2.0) / FILE_RATE_HZ;
        const aperta_f0 *f = &ours->frames[aperta_f0_track_frame_at(ours, MAX(middle_s, 0.0))];
        if (middle_s < 0.0 || !f->voiced || !(hz > 0.0f))
            continue;
        both++;
        agree += fabs(aperta_cents_between(hz, f->f0_hz)) <= 50.0;
    }
    print_message("%u frames voiced in both, %.1f %% within 50 cents\n", both, 100.0 * agree / MAX(both, 1));
    assert_true(both > ours->n_frames / 4);
    assert_true(agree >= 0.95 * both);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_agreement)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
#else
int main(void)
{
    printf("libaubio is not here\n");
    return 77; /* skipped, for Automake */
}
#endif
