/* spoken.c - vowels spoken by people and by a formant synthesiser: heard against known, linear prediction beside the
 * pooled fit.
 *
 * People: the names of the letters a e i o u in languages where they are plain vowels, from the recordings of
 * klettres-data (Debian). Synthesiser: the same letters in the same kind of language by espeak-ng, low and high.
 * Diphones: festival (Debian) holds each vowel for a second on a given pitch, from recorded speech of three women and
 * three men; their voice source is their own, not a model's, and so are their resonances, whatever the pitch. What is
 * installed is used; with none, exit status 77. A vowel counts as right in five classes: front mid
 * vowels are e, back mid ones o, near-close ones i or u, open and central ones a. Letters are speech, not singing:
 * short, with a pitch that falls; so the loudest part is read, whatever the notes would be. */
#include "dsp/dsp.h"

#include <aperta/audio.h>
#include <aperta/pitch.h>
#include <aperta/tract.h>
#include <aperta/vowel.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define KLETTRES "/usr/share/klettres"

static const char LETTERS[] = "aeiou";
enum { N_LETTERS = 5, SAMPLES_MAX = 10 * APERTA_AUDIO_RATE_HZ, LEVEL_DROP_DB = 8 };

/* Row: spoken; column: heard, the last for nothing. */
typedef struct {
    guint alone[N_LETTERS][N_LETTERS + 1]; /* named by one table */
    guint heard[N_LETTERS][N_LETTERS + 1]; /* named as a take of all that the speaker said */
} confusion;

/* Which letter a vowel would be written with, by the classes above; N_LETTERS for none. */
static guint letter_of(const aperta_vowel *vowel)
{
    static const char *const CLASSES[N_LETTERS] = {"æ a ɑ ɒ ʌ", "e ɛ", "i ɪ", "o ɔ", "u ʊ"};
    for (guint i = 0; vowel != NULL && i < N_LETTERS; i++) {
        g_auto(GStrv) members = g_strsplit(CLASSES[i], " ", -1);
        if (g_strv_contains((const char *const *)members, vowel->ipa))
            return i;
    }
    return N_LETTERS;
}

/* ---- reading -------------------------------------------------------------------------------------------------------
 */

static gsize read_file(const char *path, float *samples)
{
    aperta_audio_options options = {APERTA_AUDIO_MIX, 0.0, 0.0};
    g_autoptr(aperta_audio) audio = aperta_audio_open(path, &options, NULL);
    gsize n = 0;
    gssize got;
    while (audio != NULL && n < SAMPLES_MAX && (got = aperta_audio_read(audio, samples + n, SAMPLES_MAX - n, NULL)) > 0)
        n += (gsize)got;
    return n;
}

/* The voiced run around the loudest frame, as far as it is loud; f0_hz 0 when there is none. */
static aperta_note loudest_part(const aperta_f0_track *track)
{
    guint loudest = 0, first, last;
    float most_db = -G_MAXFLOAT;
    for (guint i = 0; i < track->n_frames; i++)
        if (track->frames[i].voiced && track->frames[i].level_db > most_db) {
            loudest = i;
            most_db = track->frames[i].level_db;
        }
    if (track->n_frames == 0 || !track->frames[loudest].voiced)
        return (aperta_note){0};
#define LOUD(i) (track->frames[i].voiced && track->frames[i].level_db > most_db - (float)LEVEL_DROP_DB)
    for (first = loudest; first > 0 && LOUD(first - 1); first--)
        continue;
    for (last = loudest; last + 1 < track->n_frames && LOUD(last + 1); last++)
        continue;
#undef LOUD
    double f0_hz[1 << 12];
    guint n = 0;
    for (guint i = first; i <= last && n < G_N_ELEMENTS(f0_hz); i++)
        f0_hz[n++] = track->frames[i].f0_hz;
    aperta_span span = {aperta_f0_track_time_s(track, first), aperta_f0_track_time_s(track, last)};
    return (aperta_note){.span = span, .steady = span, .f0_hz = dsp_quantile(f0_hz, n, 0.5)};
}

typedef struct {
    guint letter;
    double f0_hz;
    aperta_posterior lpc, fit;
} reading;

/* All that one person said. */
typedef struct {
    aperta_voice voice; /* UNKNOWN: taken from the first pitch */
    guint n;
    reading readings[64];
} speaker;

static void listen(speaker *s, const char *path, guint letter)
{
    g_autofree float *samples = g_new(float, SAMPLES_MAX);
    gsize n = read_file(path, samples);
    aperta_pitch_config pitch_config = aperta_pitch_config_default(APERTA_AUDIO_RATE_HZ);
    g_autoptr(aperta_pitch) pitch = aperta_pitch_create(&pitch_config);
    aperta_pitch_push(pitch, samples, n);
    g_autoptr(aperta_f0_track) track = aperta_pitch_finish(pitch, 0.0, NULL);
    aperta_note note = loudest_part(track);
    aperta_tract_reading tract_reading = {0};
    if (s->voice == APERTA_VOICE_UNKNOWN)
        s->voice = note.f0_hz > 165.0 ? APERTA_VOICE_WOMAN : APERTA_VOICE_MAN;
    aperta_tract_config config = {APERTA_AUDIO_RATE_HZ, s->voice, 0};
    g_autoptr(aperta_tract) tract = aperta_tract_create(&config);
    if (note.f0_hz > 0)
        aperta_tract_read(tract, samples, n, 0.0, track, &note, &tract_reading, NULL);
    g_assert(s->n < G_N_ELEMENTS(s->readings));
    reading *r = &s->readings[s->n++];
    r->letter = letter;
    r->f0_hz = note.f0_hz;
    r->fit = tract_reading.posterior;
    aperta_posterior_of_resonances(tract_reading.lpc, &r->lpc);
    if (g_getenv("SPOKEN_LIST") != NULL)
        printf("%s %.0f Hz: lpc %.0f %.0f, fit %.0f %.0f (status %d)\n", path, note.f0_hz, tract_reading.lpc[0].hz,
               tract_reading.lpc[1].hz, tract_reading.resonances[0].hz, tract_reading.resonances[1].hz,
               tract_reading.resonances[0].status);
}

static void name_by(const speaker *s, const aperta_vowel_table *table, gboolean by_fit, confusion *c)
{
    g_autoptr(aperta_vowel_ear) plain = aperta_vowel_ear_new(table), ear = aperta_vowel_ear_new(table);
    if (!aperta_vowel_ear_add_accents(ear, 0.0, NULL))
        g_error("no vowel tables");
    for (guint i = 0; i < s->n; i++)
        aperta_vowel_ear_listen(ear, by_fit ? &s->readings[i].fit : &s->readings[i].lpc);
    for (guint i = 0; i < s->n; i++) {
        const reading *r = &s->readings[i];
        const aperta_posterior *posterior = by_fit ? &r->fit : &r->lpc;
        const aperta_vowel *heard = aperta_vowel_hear(ear, posterior, r->f0_hz).heard;
        c->alone[r->letter][letter_of(aperta_vowel_hear(plain, posterior, r->f0_hz).heard)]++;
        c->heard[r->letter][letter_of(heard)]++;
        if (g_getenv("SPOKEN_LIST") != NULL)
            printf("%s %c: %s\n", by_fit ? "fit" : "lpc", LETTERS[r->letter], heard != NULL ? heard->ipa : "-");
    }
}

static void name_all(const speaker *s, confusion *lpc, confusion *fit)
{
    g_autoptr(aperta_vowel_table) table = aperta_vowel_table_load(aperta_vowel_table_for_voice(s->voice), NULL);
    if (table == NULL)
        g_error("no vowel table");
    name_by(s, table, FALSE, lpc);
    name_by(s, table, TRUE, fit);
}

/* ---- printing ------------------------------------------------------------------------------------------------------
 */

static void print_confusion(const char *name, const char *by, const guint heard[N_LETTERS][N_LETTERS + 1])
{
    double mean = 0.0;
    g_autofree char *title = g_strdup_printf("%s, %s", name, by);
    printf("%-32s", title);
    for (guint i = 0; i < N_LETTERS; i++) {
        guint all = 0;
        printf("  %c:", LETTERS[i]);
        for (guint j = 0; j <= N_LETTERS; j++) {
            all += heard[i][j];
            if (heard[i][j] > 0)
                printf(" %u%c", heard[i][j], j < N_LETTERS ? LETTERS[j] : '-');
        }
        mean += all > 0 ? 100.0 * heard[i][i] / all / N_LETTERS : 0.0;
    }
    printf("\n%-32s  right, mean of five classes: %.0f %%\n", "", mean);
}

/* ---- sets
 * ------------------------------------------------------------------------------------------------------------ */

static guint hear_people(confusion *lpc, confusion *fit)
{
    static const char *const LANGUAGES[] = {"de", "es", "it", "nds", "pt_BR", "tn"};
    guint n = 0;
    for (gsize i = 0; i < G_N_ELEMENTS(LANGUAGES); i++) {
        speaker s = {0};
        for (guint letter = 0; letter < N_LETTERS; letter++) {
            g_autofree char *path = g_strdup_printf("%s/%s/alpha/%c.ogg", KLETTRES, LANGUAGES[i], LETTERS[letter]);
            if (!g_file_test(path, G_FILE_TEST_EXISTS))
                continue;
            listen(&s, path, letter);
        }
        name_all(&s, lpc, fit);
        n += s.n;
    }
    return n;
}

static guint hear_synthesiser(confusion *lpc, confusion *fit)
{
    static const char *const VOICES[] = {"es", "it", "de", "es+f2", "it+f2", "de+f2"};
    static const char *const PITCHES[] = {"30", "60", "95"};
    g_autofree char *program = g_find_program_in_path("espeak-ng");
    g_autofree char *folder = g_dir_make_tmp("aperta-spoken-XXXXXX", NULL);
    g_autofree char *path = g_build_filename(folder, "letter.wav", NULL);
    guint n = 0;
    for (gsize v = 0; program != NULL && v < G_N_ELEMENTS(VOICES); v++)
        for (gsize p = 0; p < G_N_ELEMENTS(PITCHES); p++) {
            speaker s = {0};
            for (guint letter = 0; letter < N_LETTERS; letter++) {
                char text[] = {LETTERS[letter], 0};
                const char *argv[] = {program, "-v", VOICES[v], "-p", PITCHES[p], "-w", path, text, NULL};
                if (!g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, NULL, NULL))
                    continue;
                listen(&s, path, letter);
            }
            name_all(&s, lpc, fit);
            n += s.n;
        }
    g_unlink(path);
    g_rmdir(folder);
    return n;
}

/* ---- recorded diphones, held on a pitch ----------------------------------------------------------------------------
 */

typedef struct {
    const char *voice; /* as festival calls it */
    const char *label;
    gboolean woman;
    const char *phones[N_LETTERS]; /* long a e i o u */
} diphone_person;

static const diphone_person PEOPLE[] = {
    {"lp_diphone", "Italian woman", TRUE, {"a1", "e1", "i1", "o1", "u1"}},
    {"czech_dita", "Czech woman", TRUE, {"a:", "e:", "i:", "o:", "u:"}},
    {"pc_diphone", "Italian man", FALSE, {"a1", "e1", "i1", "o1", "u1"}},
    {"czech_machac", "Czech man", FALSE, {"a:", "e:", "i:", "o:", "u:"}},
    {"hy_fi_mv_diphone", "Finnish man", FALSE, {"a:", "e:", "i:", "o:", "u:"}},
    {"suo_fi_lj_diphone", "Finnish woman", TRUE, {"a:", "e:", "i:", "o:", "u:"}},
};

enum { N_PITCHES = 5 };
static const double WOMAN_HZ[N_PITCHES] = {196.0, 247.0, 294.0, 349.0, 415.0};
static const double MAN_HZ[N_PITCHES] = {110.0, 147.0, 196.0, 247.0, 330.0};

#define HELD_S            1.0
#define VIBRATO_HZ        5.5
#define VIBRATO_CENTS     50.0
#define TARGETS_A_VIBRATO 4

static char *held_path(const char *folder, gsize person, guint letter, guint pitch)
{
    return g_strdup_printf("%s/%" G_GSIZE_FORMAT "-%c-%u.wav", folder, person, LETTERS[letter], pitch);
}

/* Festival's own little language: one utterance of one phone whose pitch goes through these targets. */
static void add_held(GString *script, const diphone_person *who, const char *phone, double f0_hz, const char *path)
{
    g_string_append_printf(script,
                           "(if (member '%s (voice.list)) (begin (voice_%s)\n"
                           "(set! u (Utterance Segments ((# 0.1) (%s %g",
                           who->voice, who->voice, phone, HELD_S);
    for (double s = 0.0; s < HELD_S; s += 1.0 / VIBRATO_HZ / TARGETS_A_VIBRATO)
        g_string_append_printf(script, " (%.4f %.3f)", s,
                               f0_hz * exp2(VIBRATO_CENTS / 1200.0 * sin(2.0 * G_PI * VIBRATO_HZ * s)));
    g_string_append_printf(script, ") (# 0.1))))\n(utt.synth u) (utt.save.wave u \"%s\" 'riff)))\n", path);
}

static void sing_diphones(const char *program, const char *folder)
{
    g_autoptr(GString) script = g_string_new(NULL);
    g_autofree char *path = g_build_filename(folder, "held.scm", NULL);
    const char *argv[] = {program, "-b", path, NULL};

    for (gsize p = 0; p < G_N_ELEMENTS(PEOPLE); p++)
        for (guint letter = 0; letter < N_LETTERS; letter++)
            for (guint pitch = 0; pitch < N_PITCHES; pitch++) {
                g_autofree char *out = held_path(folder, p, letter, pitch);
                double f0_hz = (PEOPLE[p].woman ? WOMAN_HZ : MAN_HZ)[pitch];
                add_held(script, &PEOPLE[p], PEOPLE[p].phones[letter], f0_hz, out);
            }
    if (!g_file_set_contents(path, script->str, -1, NULL) ||
        !g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, NULL, NULL, NULL, NULL))
        printf("festival could not be run\n");
    g_unlink(path);
}

static void add_confusion(confusion *to, const confusion *more)
{
    for (guint i = 0; i < N_LETTERS; i++)
        for (guint j = 0; j <= N_LETTERS; j++) {
            to->alone[i][j] += more->alone[i][j];
            to->heard[i][j] += more->heard[i][j];
        }
}

static void print_both(const char *name, const confusion *lpc, const confusion *fit)
{
    g_autofree char *lpc_name = g_strdup_printf("%s, lpc", name);
    g_autofree char *fit_name = g_strdup_printf("%s, fit", name);

    print_confusion(lpc_name, "one table", lpc->alone);
    print_confusion(lpc_name, "accents", lpc->heard);
    print_confusion(fit_name, "one table", fit->alone);
    print_confusion(fit_name, "accents", fit->heard);
}

/* All notes of one person that festival could make; they are removed once heard. */
static guint hear_person(const char *folder, gsize person, confusion *lpc, confusion *fit)
{
    speaker s = {.voice = PEOPLE[person].woman ? APERTA_VOICE_WOMAN : APERTA_VOICE_MAN};

    for (guint letter = 0; letter < N_LETTERS; letter++)
        for (guint pitch = 0; pitch < N_PITCHES; pitch++) {
            g_autofree char *path = held_path(folder, person, letter, pitch);
            if (!g_file_test(path, G_FILE_TEST_EXISTS))
                continue;
            listen(&s, path, letter);
            g_unlink(path);
        }
    name_all(&s, lpc, fit);
    return s.n;
}

static guint hear_diphones(void)
{
    g_autofree char *program = g_find_program_in_path("festival");
    g_autofree char *folder = g_dir_make_tmp("aperta-held-XXXXXX", NULL);
    confusion all_lpc = {0}, all_fit = {0};
    guint n = 0;

    if (program != NULL)
        sing_diphones(program, folder);
    for (gsize p = 0; p < G_N_ELEMENTS(PEOPLE); p++) {
        confusion lpc = {0}, fit = {0};
        guint heard = hear_person(folder, p, &lpc, &fit);
        if (heard > 0)
            print_both(PEOPLE[p].label, &lpc, &fit);
        add_confusion(&all_lpc, &lpc);
        add_confusion(&all_fit, &fit);
        n += heard;
    }
    if (n > 0)
        print_both("all held diphones", &all_lpc, &all_fit);
    g_rmdir(folder);
    return n;
}

int main(void)
{
    confusion lpc = {0}, fit = {0}, machine_lpc = {0}, machine_fit = {0};
    guint people = hear_people(&lpc, &fit), machine = hear_synthesiser(&machine_lpc, &machine_fit);
    printf("vowel meant: how often heard as which (- is nothing or another vowel)\n");
    if (people > 0)
        print_both("people", &lpc, &fit);
    if (machine > 0)
        print_both("synthesiser", &machine_lpc, &machine_fit);
    if (people + machine + hear_diphones() > 0)
        return 0;
    printf("neither klettres-data nor espeak-ng nor festival is installed\n");
    return 77;
}
