/* singers.c - how well pitch and notes are read where the consonants are real.
 *
 *     tests/bench/singers [SET [SETS [FOLDER]]]     from set 0 on, 1 set; sung files stay in FOLDER and are used again
 *
 * Phrases of our own, sung by festival (Debian) with the recorded diphones of five people in each half: see
 * diphone-song.h. Sets below 100 are sung by those of the first half and are for choosing settings, sets from 100 on by
 * those of the second half and are for judging only. Scores: see bench.h; right is the share of the sung frames whose
 * pitch is found within 50 cents (raw pitch accuracy, where a frame called unvoiced counts as wrong), false that of the
 * silent and voiceless ones that are called voiced. Then causes: true notes not found, found notes not true. A pitch
 * that goes on through another vowel may be cut or not; how many were is told under cut. No festival or no voice of it:
 * exit status 77. */
#include "bench.h"
#include "diphone-song.h"

#include <glib/gstdio.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double rooms_rt60_s[] = {0.0, 0.5};
static const char *const room_names[] = {"dry", "room 0.5 s"};
static const char *const classes[] = {"ptk", "bdg", "sf", "zv", "mn", "lrj", "h", "-", "~"};

typedef struct {
    guint sung, missed;
} tally;

static void print_head(void)
{
    printf("%-22s right  >50c  oct.  false   onset +pitch late ms ", "");
    for (int c = 0; c < BENCH_CAUSES; c++)
        printf(" %s", bench_cause_names[c]);
    printf("\n");
}

static void print_row(const char *name, const bench_score *s)
{
    guint all = s->found_notes + s->true_notes;

    printf("%-22s %5.1f %5.2f %5.2f %6.1f   %5.3f %5.3f %7.0f ", name, bench_percent(s->found - s->gross, s->voiced),
           bench_percent(s->gross, s->found), bench_percent(s->octave, s->found),
           bench_percent(s->false_alarm, s->unvoiced), all ? 2.0 * s->onset_only / all : NAN,
           all ? 2.0 * s->matched / all : NAN, 1000.0 * bench_median(s->late_s));
    for (int c = 0; c < BENCH_CAUSES; c++)
        printf(" %*u", (int)strlen(bench_cause_names[c]), s->causes[c]);
    printf("  of %u", s->true_notes);
    if (s->optional > 0)
        printf("; other vowels cut %u/%u", s->optional_found, s->optional);
    printf("\n");
}

static gboolean is_found(const synth_truth *t, const GArray *notes)
{
    for (guint i = 0; i < notes->len; i++) {
        const aperta_note *n = &g_array_index(notes, aperta_note, i);
        if (fabs(t->start_s - n->span.start_s) <= 0.05 && fabs(aperta_cents_between(t->f0_hz, n->f0_hz)) <= 50.0)
            return TRUE;
    }
    return FALSE;
}

static void tally_onsets(const diphone_song *song, const synth_take *take, const GArray *notes, tally *tallies)
{
    for (guint k = 0; k < take->n_notes; k++)
        for (gsize c = 0; c < G_N_ELEMENTS(classes); c++)
            if (strchr(classes[c], diphone_song_consonant(song, k)) != NULL) {
                tallies[c].sung++;
                tallies[c].missed += !is_found(&take->notes[k], notes);
            }
}

/* One room's scores. */
typedef struct {
    bench_score by_voice[DIPHONE_VOICES], by_kind[DIPHONE_KINDS], all;
    tally tallies[G_N_ELEMENTS(classes)];
    guint sung;
} result;

static void each_score(result *r, void (*action)(bench_score *))
{
    for (int v = 0; v < DIPHONE_VOICES; v++)
        action(&r->by_voice[v]);
    for (int kind = 0; kind < DIPHONE_KINDS; kind++)
        action(&r->by_kind[kind]);
    action(&r->all);
}

static void read_song(const diphone_song *song, const char *folder, int room, result *r)
{
    g_autoptr(synth_take) take = diphone_song_take(song, folder);
    g_autoptr(aperta_f0_track) track = NULL;

    if (take == NULL) /* there is no such voice */
        return;
    if (rooms_rt60_s[room] > 0.0)
        synth_room_apply(take->samples, take->n_samples, take->sample_rate_hz, rooms_rt60_s[room], song->seed);
    g_autoptr(GArray) notes = bench_read_notes(take->samples, take->n_samples, SYNTH_TRUTH_HOP_S, &track);
    g_autofree gboolean *optional = g_new0(gboolean, take->n_notes);
    for (guint k = 0; k < take->n_notes; k++)
        optional[k] = diphone_song_consonant(song, k) == '=';
    bench_score *scores[] = {&r->by_voice[song->voice - diphone_voices], &r->by_kind[song->kind], &r->all};
    for (gsize i = 0; i < G_N_ELEMENTS(scores); i++) {
        bench_score_frames(scores[i], take, track);
        bench_score_notes(scores[i], take, notes, optional);
    }
    tally_onsets(song, take, notes, r->tallies);
    r->sung++;
    if (getenv("BENCH_SHOW") != NULL) {
        printf("%s, %s, %s, seed %" G_GUINT64_FORMAT "\n", song->voice->label, diphone_kind_names[song->kind],
               room_names[room], song->seed);
        bench_show(take, notes);
    }
}

static void draw_songs(GPtrArray *songs, guint set)
{
    for (int v = 0; v < DIPHONE_VOICES; v++)
        for (int kind = 0; kind < DIPHONE_KINDS; kind++)
            if (diphone_voices[v].judges == (set >= 100))
                g_ptr_array_add(songs, diphone_song_draw(&diphone_voices[v], kind, 1000 * set + 10 * v + kind + 1));
}

static void print_result(const result *r, int room)
{
    printf("\n%s\n", room_names[room]);
    print_head();
    for (int v = 0; v < DIPHONE_VOICES; v++)
        if (r->by_voice[v].true_notes > 0)
            print_row(diphone_voices[v].label, &r->by_voice[v]);
    for (int kind = 0; kind < DIPHONE_KINDS; kind++)
        print_row(diphone_kind_names[kind], &r->by_kind[kind]);
    print_row("all", &r->all);
    printf("missed by what begins them:");
    for (gsize c = 0; c < G_N_ELEMENTS(classes); c++)
        printf("  %s %u/%u", classes[c], r->tallies[c].missed, r->tallies[c].sung);
    printf("\n");
}

/* How many of them could be sung. */
static guint read_songs(GPtrArray *songs, const char *folder, int room)
{
    result r = {0};

    each_score(&r, bench_score_init);
    for (guint i = 0; i < songs->len; i++)
        read_song(songs->pdata[i], folder, room, &r);
    if (r.sung > 0)
        print_result(&r, room);
    each_score(&r, bench_score_clear);
    return r.sung;
}

static void remove_folder(const char *folder)
{
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    const char *name;

    while (dir != NULL && (name = g_dir_read_name(dir)) != NULL) {
        g_autofree char *path = g_build_filename(folder, name, NULL);
        g_unlink(path);
    }
    g_rmdir(folder);
}

int main(int argc, char **argv)
{
    guint set = argc > 1 ? (guint)atoi(argv[1]) : 0;
    guint n_sets = argc > 2 ? (guint)atoi(argv[2]) : 1;
    g_autofree char *folder = argc > 3 ? g_strdup(argv[3]) : g_dir_make_tmp("aperta-singers-XXXXXX", NULL);
    g_autoptr(GPtrArray) songs = g_ptr_array_new_with_free_func((GDestroyNotify)diphone_song_free);
    guint n = 0;

    for (guint i = 0; i < n_sets; i++)
        draw_songs(songs, set + i);
    gboolean sung = diphone_sing_all(songs, folder);
    printf("%u sets from %u on, %s\n", n_sets, set, set >= 100 ? "for judging" : "for choosing");
    for (int room = 0; sung && room < (int)G_N_ELEMENTS(rooms_rt60_s); room++)
        n = read_songs(songs, folder, room);
    if (n < songs->len)
        printf("%u of %u phrases could not be sung\n", songs->len - n, songs->len);
    if (argc <= 3)
        remove_folder(folder);
    if (n > 0)
        return 0;
    printf("festival, or every voice of it that sings here, is not installed\n");
    return 77;
}
