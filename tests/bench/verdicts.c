/* verdicts.c - of the notes that ought to be changed, how many are told so, and how many that are told so ought to?
 *
 * What a note ought to get is what the style says where its vowel is known and F1 to F3 are exact.
 *
 *     synthetic  notes of sung-token.h that were drawn from a table's vowel, in takes of a dozen (one voice, many
 *                speakers: harder than one singer); exact resonances are known
 *     diphones   people's recorded vowels held on pitches (diphones.h); F1 is the median of linear prediction's on the
 *                two lowest pitches. A change counts as right too where it would be one with an F1 lower by 5 %: that
 *                low, linear prediction is not surer
 *     labelled   recordings with a table of spans and vowels (start_s, end_s, f0_hz, vowel_ipa), where a folder of them
 *                is given: F1 is what the voice's table says of the vowel, or that less its spread
 *
 * A change also counts as right where the rules ask for it of a note whose F1 is known only to lie below a limit, the
 * limit being the true F1: they take the note as having passed F1 from F1 on, not from a semitone above.
 *
 * Columns: notes; those that ought to be changed; how many of them are told so, percent; how many changes are right,
 * percent, and strictly right, by the exact F1 alone (and how many there are); findings above fine that name a vowel of
 * another of five classes than was meant; shapes that the true vowel would not get.
 *
 * BENCH_SHOW=1 lists the changes that were wrong; BENCH_KEEP=FILE keeps the readings of the synthetic notes for the
 * next run, which must ask for the same number of notes and the same seed.
 *
 * Usage: verdicts [notes a pitch, 60] [seed, 1] [folder of labelled recordings] */
#include "diphones.h"
#include "result/result-private.h"
#include "said.h"
#include "sung-token.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

static const double PITCHES_HZ[] = {262, 294, 349, 392, 440, 494, 523, 587, 622, 740, 880};
static const char *const STYLES[] = {"belt", "legit", "classical"};
enum { N_PITCHES = G_N_ELEMENTS(PITCHES_HZ), N_STYLES = G_N_ELEMENTS(STYLES), NOTES_MAX = 2000, JOBS = 2, A_TAKE = 12 };

/* What was true of a note, and what ought to be said of it. */
typedef struct {
    const aperta_vowel *vowel;
    double hz[APERTA_N_RESONANCES]; /* 0: not known */
    double edge_ratio;              /* of F1, within which a change is not wrong */
} truth;

typedef struct {
    guint n, ought, told, changes, strictly, right, named_wrong, named, shaped, shape_wrong, watched;
} score;

/* Of the five letters, for the names that were wrong. */
static int letter_of(const aperta_vowel *vowel)
{
    static const char *const CLASSES[] = {"æ a ɑ ɒ ʌ", "e ɛ", "i ɪ", "o ɔ", "u ʊ"};

    for (int i = 0; i < (int)G_N_ELEMENTS(CLASSES); i++) {
        g_auto(GStrv) members = g_strsplit(CLASSES[i], " ", -1);
        if (g_strv_contains((const char *const *)members, vowel->ipa))
            return i;
    }
    return -1;
}

/* The vowel that the words name as sung, whichever; NULL: none. */
static const aperta_vowel *named_in(const aperta_finding *finding)
{
    gsize n;
    const aperta_vowel *const vowels = aperta_vowel_all(&n);

    for (gsize i = 0; i < n; i++) {
        g_autofree char *of = g_strdup_printf("of %s “%s” (", vowels[i].ipa, vowels[i].respelling);
        g_autofree char *on = g_strdup_printf("%s “%s” (", vowels[i].ipa, vowels[i].respelling);
        gboolean is_shape = finding->shape != NULL && finding->shape->vowel == &vowels[i];
        if (strstr(said_text(finding), of) != NULL || (!is_shape && strstr(said_text(finding), on) != NULL))
            return &vowels[i];
    }
    return NULL;
}

static GPtrArray *ought_findings(const aperta_rules *rules, const aperta_result *r, const aperta_sung_note *note,
                                 const truth *t, double ratio, gboolean bounded)
{
    aperta_situation situation = {.voice = r->settings.voice,
                                  .f0_hz = note->note.f0_hz,
                                  .midi = note->midi,
                                  .duration_s = note->note.span.end_s - note->note.span.start_s,
                                  .vowel = t->vowel,
                                  .vibrato = note->note.vibrato};

    for (int i = 0; i < APERTA_N_RESONANCES; i++)
        if (t->hz[i] > 0.0)
            situation.resonances[i] =
                (aperta_resonance){.status = APERTA_MEASURED, .hz = t->hz[i] * (i == 0 ? ratio : 1.0)};
    if (bounded) /* what the rules ask where only a limit is known, asked of the truth */
        situation.resonances[0] =
            (aperta_resonance){.status = APERTA_BOUNDED, .has_high = TRUE, .high_hz = situation.resonances[0].hz};
    return aperta_advise(rules, r->settings.table, &situation, NULL);
}

static const aperta_shape *first_shape(const GPtrArray *findings)
{
    for (guint i = 0; i < findings->len; i++) {
        const aperta_finding *finding = aperta_finding_at(findings, i);
        if (finding->shape != NULL)
            return finding->shape;
    }
    return NULL;
}

static void add(score *s, const aperta_rules *rules, const aperta_result *r, const aperta_sung_note *note,
                const truth *t)
{
    g_autoptr(GPtrArray) exact = ought_findings(rules, r, note, t, 1.0, FALSE);
    gboolean bounded = aperta_sung_note_resonances(note)[0].status == APERTA_BOUNDED;
    g_autoptr(GPtrArray) lower = ought_findings(rules, r, note, t, t->edge_ratio, bounded);
    gboolean ought = aperta_findings_level(exact) == APERTA_LEVEL_CHANGE;
    gboolean may = ought || aperta_findings_level(lower) == APERTA_LEVEL_CHANGE;
    gboolean told = aperta_sung_note_level(note) == APERTA_LEVEL_CHANGE;

    s->n++;
    s->ought += ought;
    s->told += ought && told;
    s->changes += told;
    s->strictly += told && ought;
    s->right += told && may;
    s->watched += aperta_sung_note_level(note) == APERTA_LEVEL_WATCH;
    if (told && !may && g_getenv("BENCH_SHOW") != NULL)
        printf("  wrong: %s %s true %s F1 %.0f f0 %.0f: %s\n", r->settings.style, note->name, t->vowel->ipa, t->hz[0],
               note->note.f0_hz, said_text(aperta_finding_at(note->advice, 0)));
    for (guint i = 0; i < note->advice->len; i++) {
        const aperta_finding *finding = aperta_finding_at(note->advice, i);
        const aperta_vowel *named = named_in(finding);
        if (finding->level == APERTA_LEVEL_FINE)
            continue;
        s->named += named != NULL;
        s->named_wrong += named != NULL && letter_of(named) != letter_of(t->vowel);
        if (finding->shape != NULL) {
            const aperta_shape *right = first_shape(exact);
            s->shaped++;
            s->shape_wrong += right == NULL || letter_of(right->vowel) != letter_of(finding->shape->vowel);
        }
    }
}

static double percent(guint part, guint whole)
{
    return whole > 0 ? 100.0 * part / whole : 0.0;
}

static void print_score(const char *what, const char *style, const score *s)
{
    printf("%-22s %-9s %5u %5u   %5.1f   %5.1f %5.1f (%4u)  %5u  %3u of %3u   %3u of %3u\n", what, style, s->n,
           s->ought, percent(s->told, s->ought), percent(s->right, s->changes), percent(s->strictly, s->changes),
           s->changes, s->watched, s->named_wrong, s->named, s->shape_wrong, s->shaped);
}

static void join(score *all, const score *one)
{
    const guint *from = (const guint *)(const void *)one;
    guint *to = (guint *)(void *)all;

    for (gsize i = 0; i < sizeof *one / sizeof *from; i++)
        to[i] += from[i];
}

/* ---- synthetic notes, read once ---------------------------------------------------------------------------------- */

/* Memory that forked readers share: the file BENCH_KEEP, if that is set, whose readings are used again where it exists.
 */
static sung_token *map_tokens(gsize size, gboolean *kept)
{
    const char *path = g_getenv("BENCH_KEEP");
    int fd = path != NULL ? g_open(path, O_RDWR | O_CREAT, 0644) : -1;

    *kept = fd >= 0 && lseek(fd, 0, SEEK_END) == (off_t)size;
    if (fd < 0)
        return mmap(NULL, size, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    if (!*kept && ftruncate(fd, (off_t)size) != 0)
        return MAP_FAILED;
    return mmap(NULL, size, PROT_READ | PROT_WRITE, MAP_SHARED, fd, 0);
}

static aperta_result *result_of_voice(aperta_voice voice, const aperta_rules *rules)
{
    aperta_result *r = g_new0(aperta_result, 1);

    r->settings.style = g_strdup(aperta_rules_style(rules));
    r->settings.voice = voice;
    r->a4_hz = 440.0;
    r->settings.table = aperta_vowel_table_load(aperta_vowel_table_for_voice(voice), NULL);
    r->notes = g_ptr_array_new_with_free_func((GDestroyNotify)result_note_free);
    if (r->settings.table == NULL)
        g_error("no vowel table");
    return r;
}

static void add_token(aperta_result *r, const sung_token *token)
{
    aperta_note heard = {.span = {2.0 * r->notes->len, 2.0 * r->notes->len + 1.0},
                         .steady = {2.0 * r->notes->len, 2.0 * r->notes->len + 1.0},
                         .f0_hz = token->f0_hz};
    aperta_sung_note *note = result_note_new((int)r->notes->len + 1, &heard, r);

    memcpy(note->tract.resonances, token->fit, sizeof token->fit);
    note->tract.posterior = token->posterior;
    g_ptr_array_add(r->notes, note);
}

/* Each is judged for itself: they are of as many singers. */
static void score_take(const aperta_rules *rules, const sung_token *const *tokens, guint n, score *by_pitch)
{
    g_autoptr(aperta_vowel_table) table = aperta_vowel_table_load(aperta_vowel_table_for_voice(tokens[0]->voice), NULL);
    g_autoptr(aperta_vowel_ear) ear = aperta_vowel_ear_new(table);

    if (!aperta_vowel_ear_add_accents(ear, 0.0, NULL))
        g_error("no vowel tables");
    for (guint i = 0; i < n; i++)
        aperta_vowel_ear_listen(ear, &tokens[i]->posterior);
    for (guint i = 0; i < n; i++) {
        g_autoptr(aperta_result) r = result_of_voice(tokens[0]->voice, rules);
        add_token(r, tokens[i]);
        result_hear_vowel(g_ptr_array_index(r->notes, 0), ear);
        result_judge_notes(r, rules, ear, FALSE);
        truth t = {.vowel = aperta_vowel_by_ipa(tokens[i]->vowel), .edge_ratio = 1.0};
        memcpy(t.hz, tokens[i]->true_hz, sizeof t.hz);
        add(&by_pitch[tokens[i]->f0_hz < 420.0   ? 0
                      : tokens[i]->f0_hz < 560.0 ? 1
                                                 : 2],
            rules, r, g_ptr_array_index(r->notes, 0), &t);
    }
}

static void score_synthetic(const sung_token *tokens, guint n, const char *style)
{
    static const aperta_voice VOICES[] = {APERTA_VOICE_MAN, APERTA_VOICE_WOMAN, APERTA_VOICE_CHILD};
    static const char *const RANGES[] = {"synthetic to 420 Hz", "synthetic to 560 Hz", "synthetic above"};
    g_autoptr(aperta_rules) rules = aperta_rules_load(style, NULL);
    score by_pitch[3] = {{0}}, all = {0};
    guint notes = n / N_PITCHES;

    for (gsize v = 0; v < G_N_ELEMENTS(VOICES); v++) {
        const sung_token *take[A_TAKE];
        guint held = 0;
        for (guint k = 0; k < n; k++) {
            const sung_token *token = &tokens[k % N_PITCHES * notes + k / N_PITCHES];
            if (token->vowel[0] == '\0' || token->voice != VOICES[v])
                continue;
            take[held++] = token;
            if (held == A_TAKE) {
                score_take(rules, take, held, by_pitch);
                held = 0;
            }
        }
        if (held > 0)
            score_take(rules, take, held, by_pitch);
    }
    for (int i = 0; i < 3; i++) {
        print_score(RANGES[i], style, &by_pitch[i]);
        join(&all, &by_pitch[i]);
    }
    print_score("synthetic, all", style, &all);
}

/* ---- people ------------------------------------------------------------------------------------------------------ */

static const aperta_sung_note *note_at(const aperta_result *r, double time_s)
{
    for (guint i = 0; i < r->notes->len; i++) {
        const aperta_sung_note *note = aperta_sung_note_at(r->notes, i);
        if (note->note.span.start_s <= time_s && note->note.span.end_s > time_s)
            return note;
    }
    return NULL;
}

static int by_value(const void *a, const void *b)
{
    double first = *(const double *)a, second = *(const double *)b;

    return (first > second) - (first < second);
}

/* Medians of linear prediction's values on the lowest pitches. */
static gboolean low_truth(const aperta_result *r, guint letter, truth *t)
{
    static const char *const IPA[DIPHONE_LETTERS] = {"ɑ", "e", "i", "o", "u"};

    *t = (truth){.vowel = aperta_vowel_by_ipa(IPA[letter]), .edge_ratio = 0.95};
    for (int k = 0; k < APERTA_N_RESONANCES; k++) {
        double hz[DIPHONE_LOW];
        guint n = 0;
        for (guint p = 0; p < DIPHONE_LOW; p++) {
            const aperta_sung_note *note = note_at(r, diphone_middle_s(letter, p));
            if (note != NULL && note->tract.lpc[k].status == APERTA_MEASURED)
                hz[n++] = note->tract.lpc[k].hz;
        }
        if (n == 0)
            return FALSE;
        qsort(hz, n, sizeof *hz, by_value);
        t->hz[k] = sqrt(hz[(n - 1) / 2] * hz[n / 2]);
    }
    return TRUE;
}

static void score_singer(const diphone_singer *who, const char *path, const char *style, score *sum)
{
    aperta_take_options options = {
        .style = style, .voice = who->woman ? APERTA_VOICE_WOMAN : APERTA_VOICE_MAN, .jobs = JOBS};
    g_autoptr(aperta_result) r = aperta_take(path, &options, NULL);
    g_autoptr(aperta_rules) rules = aperta_rules_load(style, NULL);
    score s = {0};

    for (guint letter = 0; r != NULL && letter < DIPHONE_LETTERS; letter++) {
        truth t;
        if (!low_truth(r, letter, &t))
            continue;
        for (guint pitch = DIPHONE_LOW; pitch < DIPHONE_PITCHES; pitch++) {
            const aperta_sung_note *note = note_at(r, diphone_middle_s(letter, pitch));
            double hz = diphone_pitches_hz(who)[pitch];
            if (note != NULL && fabs(aperta_semitones_between(hz, note->note.f0_hz)) < 0.5)
                add(&s, rules, r, note, &t);
        }
    }
    print_score(who->label, style, &s);
    join(&sum[who->judges], &s);
}

static void score_diphones(void)
{
    g_autofree char *folder = g_dir_make_tmp("aperta-verdicts-XXXXXX", NULL);
    score sums[N_STYLES][2] = {{{0}}};
    gboolean any = FALSE;

    for (gsize i = 0; i < DIPHONE_N_SINGERS; i++) {
        g_autofree char *path = g_build_filename(folder, "sung.wav", NULL);
        if (!diphone_sing(&DIPHONE_SINGERS[i], path))
            continue;
        any = TRUE;
        for (int s = 0; s < N_STYLES; s++)
            score_singer(&DIPHONE_SINGERS[i], path, STYLES[s], sums[s]);
        g_unlink(path);
    }
    g_rmdir(folder);
    if (!any)
        printf("festival is not installed: no people from diphones\n");
    for (int s = 0; any && s < N_STYLES; s++) {
        print_score("diphones, choosing", STYLES[s], &sums[s][0]);
        print_score("diphones, judging", STYLES[s], &sums[s][1]);
    }
}

/* ---- labelled recordings ----------------------------------------------------------------------------------------- */

static gboolean table_truth(const aperta_vowel_table *table, const char *ipa, truth *t)
{
    const aperta_vowel *vowel = aperta_vowel_by_ipa(ipa);
    const aperta_vowel_row *row = vowel == NULL ? NULL : aperta_vowel_table_row(table, vowel);

    if (row == NULL)
        return FALSE;
    *t = (truth){.vowel = vowel, .edge_ratio = 1.0 - row->sd_hz[0] / row->hz[0]};
    memcpy(t->hz, row->hz, sizeof t->hz);
    return TRUE;
}

static void score_labelled(const char *folder, const char *name, const char *style)
{
    g_autofree char *stem = g_strndup(name, strlen(name) - strlen(".tsv"));
    g_autofree char *sound = g_strconcat(folder, "/", stem, ".flac", NULL);
    g_autofree char *path = g_build_filename(folder, name, NULL);
    g_autofree char *text = NULL;
    gboolean woman = strstr(name, "woman") != NULL;
    aperta_take_options options = {
        .style = style, .voice = woman ? APERTA_VOICE_WOMAN : APERTA_VOICE_MAN, .jobs = JOBS};
    score s = {0};

    if (!g_file_get_contents(path, &text, NULL, NULL))
        return;
    g_autoptr(aperta_result) r = aperta_take(sound, &options, NULL);
    g_autoptr(aperta_rules) rules = aperta_rules_load(style, NULL);
    g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
    for (guint i = 1; r != NULL && lines[i] != NULL; i++) {
        g_auto(GStrv) cells = g_strsplit(lines[i], "\t", -1);
        truth t;
        if (g_strv_length(cells) < 4 || !table_truth(r->settings.table, cells[3], &t))
            continue;
        const aperta_sung_note *note =
            note_at(r, (g_ascii_strtod(cells[0], NULL) + g_ascii_strtod(cells[1], NULL)) / 2.0);
        if (note != NULL)
            add(&s, rules, r, note, &t);
    }
    print_score(stem, style, &s);
}

static void score_folder(const char *folder)
{
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);

    for (const char *name; dir != NULL && (name = g_dir_read_name(dir)) != NULL;)
        for (int s = 0; s < N_STYLES && g_str_has_suffix(name, ".tsv"); s++)
            score_labelled(folder, name, STYLES[s]);
}

/* ------------------------------------------------------------------------------------------------------------------ */

int main(int argc, char **argv)
{
    guint notes = argc > 1 ? MIN((guint)atoi(argv[1]), NOTES_MAX) : 60;
    guint64 seed = argc > 2 ? (guint64)atoi(argv[2]) : 1;
    gboolean kept;
    sung_token *tokens = map_tokens(sizeof(sung_token) * N_PITCHES * MAX(notes, 1), &kept);

    if (tokens == MAP_FAILED) {
        perror("verdicts");
        return 1;
    }
    if (!kept)
        sung_token_read_all(tokens, PITCHES_HZ, N_PITCHES, notes, FALSE, seed, JOBS);
    printf("%-22s %-9s %5s %5s   %5s   %-18s  %5s  %-10s   %s\n", "", "style", "notes", "ought", "told",
           "right  strictly", "watch", "named wrong", "shape wrong");
    for (int s = 0; notes > 0 && s < N_STYLES; s++)
        score_synthetic(tokens, N_PITCHES * notes, STYLES[s]);
    if (argc > 3)
        score_folder(argv[3]);
    else
        printf("no folder of labelled recordings was given\n");
    score_diphones();
    return 0;
}
