/* spoken.c - vowels of people, heard against known, linear prediction beside the pooled fit; ways and sides: heard.h.
 *
 * Held: festival (Debian) holds each vowel for a second on five given pitches, with and without vibrato, from the
 * diphones that people recorded; their voice source is their own, not a model's, and so are their resonances, whatever
 * the pitch. flite does it with models of spectra that were trained on people. Sentences: vowels cut out of what the
 * Russian speaker of festvox-ru read. Letters: the names of the letters a e i o u where they are plain vowels, from
 * klettres-data and the prompts of asterisk (8 kHz): short, with a pitch that falls, often noisy. Synthesiser: the same
 * letters by espeak-ng. What is installed is used; with none, exit status 77.
 *
 * The sounds are made in a temporary folder and removed. */
#include "diphones.h"
#include "heard.h"

#include <aperta/audio.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { N_PITCHES = 5, N_TAKES = 2, TARGETS_A_VIBRATO = 4 };
static const double WOMAN_HZ[N_PITCHES] = {196.0, 247.0, 294.0, 349.0, 415.0};
static const double MAN_HZ[N_PITCHES] = {110.0, 147.0, 196.0, 247.0, 330.0};
static const double EXTENT_CENTS[N_TAKES] = {50.0, 0.0};

#define HELD_S     1.0
#define VIBRATO_HZ 5.5

static gboolean run(const char **argv)
{
    return g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_STDERR_TO_DEV_NULL | G_SPAWN_STDOUT_TO_DEV_NULL, NULL, NULL,
                        NULL, NULL, NULL, NULL);
}

static void hear(heard_board *board, const heard_person *person)
{
    heard_add(board, person, TRUE);
}

/* ---- diphones, held on a pitch ----------------------------------------------------------------------------------- */

static char *held_path(const char *folder, gsize person, guint letter, guint pitch, guint take)
{
    return g_strdup_printf("%s/%" G_GSIZE_FORMAT "-%c-%u-%u.wav", folder, person, HEARD_LETTER[letter], pitch, take);
}

/* Festival's own little language: one utterance of one phone whose pitch goes through these targets. */
static void add_held(GString *script, const diphone_singer *who, guint letter, double f0_hz, double cents,
                     const char *path)
{
    g_string_append_printf(script,
                           "(if (member '%s (voice.list)) (begin (voice_%s)\n"
                           "(set! u (Utterance Segments ((%s 0.1) (%s %g",
                           who->voice, who->voice, who->silence, who->phones[letter], HELD_S);
    for (double s = 0.0; s < HELD_S; s += 1.0 / VIBRATO_HZ / TARGETS_A_VIBRATO)
        g_string_append_printf(script, " (%.4f %.3f)", s,
                               f0_hz * exp2(cents / 1200.0 * sin(2.0 * G_PI * VIBRATO_HZ * s)));
    g_string_append_printf(script, ") (%s 0.1))))\n(utt.synth u) (utt.save.wave u \"%s\" 'riff)))\n", who->silence,
                           path);
}

static void sing_diphones(const char *program, const char *folder)
{
    g_autoptr(GString) script = g_string_new(NULL);
    g_autofree char *path = g_build_filename(folder, "held.scm", NULL);
    const char *argv[] = {program, "-b", path, NULL};

    for (gsize p = 0; p < DIPHONE_N_SINGERS; p++)
        for (guint letter = 0; letter < HEARD_LETTERS; letter++)
            for (guint pitch = 0; pitch < N_PITCHES; pitch++)
                for (guint take = 0; take < N_TAKES; take++) {
                    g_autofree char *out = held_path(folder, p, letter, pitch, take);
                    double f0_hz = (DIPHONE_SINGERS[p].woman ? WOMAN_HZ : MAN_HZ)[pitch];
                    add_held(script, &DIPHONE_SINGERS[p], letter, f0_hz, EXTENT_CENTS[take], out);
                }
    if (!g_file_set_contents(path, script->str, -1, NULL) || !run(argv))
        printf("festival could not be run\n");
    g_unlink(path);
}

static void hear_diphones(heard_board *board, const char *folder)
{
    g_autofree char *program = g_find_program_in_path("festival");

    if (program != NULL)
        sing_diphones(program, folder);
    for (gsize p = 0; program != NULL && p < DIPHONE_N_SINGERS; p++) {
        heard_person person = {.label = DIPHONE_SINGERS[p].label,
                               .side = DIPHONE_SINGERS[p].judges ? HEARD_JUDGE : HEARD_CHOOSE,
                               .woman = DIPHONE_SINGERS[p].woman};
        for (guint letter = 0; letter < HEARD_LETTERS; letter++)
            for (guint pitch = 0; pitch < N_PITCHES; pitch++)
                for (guint take = 0; take < N_TAKES; take++) {
                    g_autofree char *path = held_path(folder, p, letter, pitch, take);
                    heard_listen_to_file(&person, path, letter, take);
                    g_unlink(path);
                }
        hear(board, &person);
    }
}

/* ---- models of people's spectra ---------------------------------------------------------------------------------- */

static void hear_models(heard_board *board, const char *folder)
{
    static const struct {
        const char *voice, *label;
        heard_side side;
        gboolean woman;
    } MODELS[] = {{"slt", "American woman", HEARD_CHOOSE, TRUE}, {"awb", "Scottish man", HEARD_JUDGE, FALSE}};
    static const char *const PHONES[HEARD_LETTERS] = {"aa", "eh", "iy", "ow", "uw"};
    g_autofree char *program = g_find_program_in_path("flite");
    g_autofree char *path = g_build_filename(folder, "model.wav", NULL);

    for (gsize m = 0; program != NULL && m < G_N_ELEMENTS(MODELS); m++) {
        heard_person person = {.label = MODELS[m].label, .side = MODELS[m].side, .woman = MODELS[m].woman};
        for (guint letter = 0; letter < HEARD_LETTERS; letter++)
            for (guint pitch = 0; pitch < N_PITCHES; pitch++) {
                g_autofree char *phones = g_strdup_printf("pau %s pau", PHONES[letter]);
                g_autofree char *f0 =
                    g_strdup_printf("int_f0_target_mean=%g", (person.woman ? WOMAN_HZ : MAN_HZ)[pitch]);
                const char *argv[] = {program,
                                      "-voice",
                                      MODELS[m].voice,
                                      "-p",
                                      phones,
                                      "--setf",
                                      "duration_stretch=4",
                                      "--setf",
                                      f0,
                                      "-o",
                                      path,
                                      NULL};
                if (run(argv))
                    heard_listen_to_file(&person, path, letter, 0);
            }
        hear(board, &person);
    }
    g_unlink(path);
}

/* ---- vowels cut out of sentences --------------------------------------------------------------------------------- */

#define RUSSIAN "/usr/share/festival/voices/russian/msu_ru_nsh_clunits"
enum { SENTENCES = 620, RUSSIAN_EACH = 10 };
#define RUSSIAN_LONG_S 0.16 /* shorter ones are half consonant */
#define RUSSIAN_EDGE_S 0.02

static guint stressed_vowel(const char *phone)
{
    static const char *const STRESSED[HEARD_LETTERS] = {"aa", "ee", "ii", "oo", "uu"};
    guint letter = 0;
    while (letter < HEARD_LETTERS && strcmp(phone, STRESSED[letter]) != 0)
        letter++;
    return letter;
}

static void hear_stretch(heard_person *person, guint sentence, guint letter, double from_s, double to_s)
{
    enum { N_MAX = 2 * APERTA_AUDIO_RATE_HZ };
    g_autofree char *path = g_strdup_printf(RUSSIAN "/wav/ru_%04u.wav", sentence);
    aperta_audio_options options = {.from_s = from_s + RUSSIAN_EDGE_S, .to_s = to_s - RUSSIAN_EDGE_S};
    g_autoptr(aperta_audio) audio = aperta_audio_open(path, &options, NULL);
    g_autofree float *samples = g_new(float, N_MAX);
    gsize n = 0;
    gssize got;
    while (audio != NULL && n < N_MAX && (got = aperta_audio_read(audio, samples + n, N_MAX - n, NULL)) > 0)
        n += (gsize)got;
    heard_listen(person, samples, n, 0.0, letter, 0);
}

/* Lines of the labels: end in seconds, a number, a phone. */
static void hear_sentence(heard_person *person, guint sentence, guint *left)
{
    g_autofree char *path = g_strdup_printf(RUSSIAN "/lab/ru_%04u.lab", sentence);
    g_autofree char *text = NULL;
    double before_s = 0.0;

    if (!g_file_get_contents(path, &text, NULL, NULL))
        return;
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    for (char **line = lines; *line != NULL; line++) {
        g_auto(GStrv) fields = g_strsplit(g_strstrip(*line), " ", -1);
        if (g_strv_length(fields) != 3)
            continue;
        double end_s = g_ascii_strtod(fields[0], NULL);
        guint letter = stressed_vowel(fields[2]);
        if (letter < HEARD_LETTERS && left[letter] > 0 && end_s - before_s > RUSSIAN_LONG_S) {
            hear_stretch(person, sentence, letter, before_s, end_s);
            left[letter]--;
        }
        before_s = end_s;
    }
}

static void hear_sentences(heard_board *board)
{
    heard_person person = {.label = "Russian man, sentences", .side = HEARD_JUDGE};
    guint left[HEARD_LETTERS] = {RUSSIAN_EACH, RUSSIAN_EACH, RUSSIAN_EACH, RUSSIAN_EACH, RUSSIAN_EACH};

    for (guint sentence = 1; sentence <= SENTENCES; sentence++)
        hear_sentence(&person, sentence, left);
    hear(board, &person);
}

/* ---- letters ----------------------------------------------------------------------------------------------------- */

#define KLETTRES "/usr/share/klettres/"
#define ASTERISK "/usr/share/asterisk/sounds/"

static const struct {
    const char *folder, *label;
    heard_side side;
    const char *files[HEARD_LETTERS];
} LETTERS[] = {
    {KLETTRES "de/alpha", "letters de", HEARD_CHOOSE, {"a.ogg", "e.ogg", "i.ogg", "o.ogg", "u.ogg"}},
    {KLETTRES "es/alpha", "letters es", HEARD_CHOOSE, {"a.ogg", "e.ogg", "i.ogg", "o.ogg", "u.ogg"}},
    {KLETTRES "it/alpha", "letters it", HEARD_CHOOSE, {"a.ogg", "e.ogg", "i.ogg", "o.ogg", "u.ogg"}},
    {KLETTRES "hu/alpha", "letters hu", HEARD_CHOOSE, {"a2.ogg", "e2.ogg", "i2.ogg", "o2.ogg", "u2.ogg"}},
    {KLETTRES "lt/alpha", "letters lt", HEARD_CHOOSE, {"a-1.ogg", "e-3.ogg", "y.ogg", "o.ogg", "u-3.ogg"}},
    {KLETTRES "cs/alpha", "letters cs", HEARD_CHOOSE, {"a-0.ogg", "a-4.ogg", "a-8.ogg", "a-14.ogg", "a-20.ogg"}},
    {ASTERISK "es_MX_f_Allison/letters", "letters es_MX", HEARD_CHOOSE, {"a.wav", "e.wav", "i.wav", "o.wav", "u.wav"}},
    {KLETTRES "nds/alpha", "letters nds", HEARD_JUDGE, {"a.ogg", "e.ogg", "i.ogg", "o.ogg", "u.ogg"}},
    {KLETTRES "pt_BR/alpha", "letters pt_BR", HEARD_JUDGE, {"a.ogg", "e.ogg", "i.ogg", "o.ogg", "u.ogg"}},
    {KLETTRES "tn/alpha", "letters tn", HEARD_JUDGE, {"a.ogg", "e.ogg", "i.ogg", "o.ogg", "u.ogg"}},
    {KLETTRES "ml/alpha", "letters ml", HEARD_JUDGE, {"aa.ogg", "ee.ogg", "i.ogg", "oo.ogg", "uu.ogg"}},
    {KLETTRES "ru/alpha", "letters ru", HEARD_JUDGE, {"a.ogg", "ae.ogg", "i.ogg", "o.ogg", "u.ogg"}},
    {KLETTRES "uk/alpha", "letters uk", HEARD_JUDGE, {"a.ogg", "e.ogg", "i.ogg", "o.ogg", "u.ogg"}},
    {ASTERISK "it_IT_m_Carlo/letters", "letters it_IT", HEARD_JUDGE, {"a.wav", "e.wav", "i.wav", "o.wav", "u.wav"}},
};

static gboolean sounds_like_a_woman(const heard_person *person)
{
    double sum_hz = 0.0;
    for (guint i = 0; i < person->n; i++)
        sum_hz += person->notes[i].f0_hz;
    return sum_hz > 165.0 * person->n;
}

static void hear_letters(heard_board *board)
{
    for (gsize l = 0; l < G_N_ELEMENTS(LETTERS); l++) {
        heard_person person = {.label = LETTERS[l].label, .side = LETTERS[l].side};
        for (guint letter = 0; letter < HEARD_LETTERS; letter++) {
            g_autofree char *path = g_build_filename(LETTERS[l].folder, LETTERS[l].files[letter], NULL);
            heard_listen_to_file(&person, path, letter, 0);
        }
        person.woman = sounds_like_a_woman(&person);
        hear(board, &person);
    }
}

static void hear_synthesiser(heard_board *board, const char *folder)
{
    static const char *const VOICES[] = {"es", "it", "de", "es+f2", "it+f2", "de+f2"};
    static const char *const PITCHES[] = {"30", "60", "95"};
    g_autofree char *program = g_find_program_in_path("espeak-ng");
    g_autofree char *path = g_build_filename(folder, "letter.wav", NULL);

    for (gsize v = 0; program != NULL && v < G_N_ELEMENTS(VOICES); v++) {
        heard_person person = {.label = VOICES[v], .side = HEARD_JUDGE, .woman = strchr(VOICES[v], '+') != NULL};
        for (gsize p = 0; p < G_N_ELEMENTS(PITCHES); p++)
            for (guint letter = 0; letter < HEARD_LETTERS; letter++) {
                char text[] = {HEARD_LETTER[letter], 0};
                const char *argv[] = {program, "-v", VOICES[v], "-p", PITCHES[p], "-w", path, text, NULL};
                if (run(argv))
                    heard_listen_to_file(&person, path, letter, 0);
            }
        hear(board, &person);
    }
    g_unlink(path);
}

/* ------------------------------------------------------------------------------------------------------------------ */

int main(void)
{
    g_autofree char *folder = g_dir_make_tmp("aperta-spoken-XXXXXX", NULL);
    g_autoptr(heard_board) held = heard_board_new(), letters = heard_board_new(), machine = heard_board_new();

    printf("%-31s lpc and fit: table take vowel astray;  fit, takes of one vowel: meant: heard\n", "");
    hear_diphones(held, folder);
    hear_models(held, folder);
    hear_sentences(held);
    hear_letters(letters);
    hear_synthesiser(machine, folder);
    g_rmdir(folder);
    gboolean any = heard_print(held, "held vowels of people");
    any |= heard_print(letters, "letters");
    any |= heard_print(machine, "espeak-ng");
    if (any)
        return 0;
    printf("neither festival nor flite, klettres-data, asterisk's prompts or espeak-ng is installed\n");
    return 77;
}
