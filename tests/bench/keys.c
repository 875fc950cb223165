/* keys.c - how often the key of a tune is told rightly.
 *
 *     tests/bench/keys [SCORE...]
 *
 * Old songs from memory (tests/support/tunes.c), whole and their first halves, in all twelve transpositions: choosing
 * half and judging half. Of scores that are named (MusicXML, MIDI), the written key signature is the truth, as the mode
 * is often not written; what is told must have that signature. */
#include "tunes.h"

#include <aperta/pitch.h>
#include <aperta/score.h>
#include <math.h>
#include <stdio.h>

typedef struct {
    guint n, right, one_of_two, two, silent, sure_but_wrong;
} tally;

static void count(tally *t, const aperta_key *key, gboolean right, gboolean other_right)
{
    t->n++;
    t->silent += !key->known;
    if (!key->known)
        return;
    t->two += key->has_other;
    t->right += !key->has_other && right;
    t->one_of_two += key->has_other && (right || other_right);
    t->sure_but_wrong += !key->has_other && !right && key->confidence >= 0.8;
}

static void print_row(const char *name, const tally *t)
{
    printf("%-28s %4u   %5.1f  %5.1f of %5.1f  %5.1f  %5.1f\n", name, t->n, 100.0 * t->right / t->n,
           100.0 * t->one_of_two / t->n, 100.0 * t->two / t->n, 100.0 * t->silent / t->n,
           100.0 * t->sure_but_wrong / t->n);
}

static void bench_tunes(guint half, double share, const char *name)
{
    tally t = {0};

    for (guint i = half; i < N_TUNES; i += 2)
        for (int tonic = 0; tonic < 12; tonic++) {
            g_autoptr(GArray) notes = tune_notes(&TUNES[i], 60 + tonic, share);
            aperta_key key = aperta_pitch_key((const aperta_note *)(void *)notes->data, notes->len, 440.0);
            count(&t, &key, key.tonic == tonic && key.minor == TUNES[i].minor,
                  key.other_tonic == tonic && key.other_minor == TUNES[i].minor);
        }
    print_row(name, &t);
}

/* Pitch class of the major key with the same signature. */
static int signature(int tonic, gboolean minor)
{
    return (tonic + (minor ? 3 : 0)) % 12;
}

static gboolean read_score(const char *path, tally *t)
{
    aperta_score_options options = {0};
    g_autoptr(aperta_score) score = aperta_score_read(path, &options, NULL);

    if (score == NULL || !score->key.known || score->n_notes < 12)
        return FALSE;
    g_autoptr(GArray) notes = g_array_new(FALSE, FALSE, sizeof(aperta_note));
    int fifths = score->notes[0].fifths;
    for (guint i = 0; i < score->n_notes; i++) {
        const aperta_score_note *n = &score->notes[i];
        aperta_note note = {.span = {n->start_s, n->end_s}, .f0_hz = aperta_midi_to_hz(n->midi, 440.0)};
        if (n->fifths == fifths && n->end_s > n->start_s)
            g_array_append_val(notes, note);
    }
    aperta_key key = aperta_pitch_key((const aperta_note *)(void *)notes->data, notes->len, 440.0);
    int truth = ((fifths * 7) % 12 + 12) % 12;
    count(t, &key, signature(key.tonic, key.minor) == truth, signature(key.other_tonic, key.other_minor) == truth);
    return TRUE;
}

int main(int argc, char **argv)
{
    tally t = {0};

    printf("%-28s %4s   %5s  %5s of %5s  %5s  %s; per cent\n", "", "n", "right", "one", "two", "none", "wrong, sure");
    bench_tunes(0, 1.0, "choosing, whole");
    bench_tunes(0, 0.5, "choosing, first half");
    bench_tunes(1, 1.0, "judging, whole");
    bench_tunes(1, 0.5, "judging, first half");
    for (int i = 1; i < argc; i++)
        if (!read_score(argv[i], &t))
            printf("%s: not read, or no key, or too short\n", argv[i]);
    if (t.n > 0)
        print_row("scores, signature", &t);
    return 0;
}
