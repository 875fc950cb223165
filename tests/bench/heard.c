/* heard.c - see heard.h */
#include "heard.h"

#include <aperta/audio.h>
#include <aperta/pitch.h>
#include <aperta/tract.h>
#include <aperta/vowel.h>
#include <stdio.h>
#include <string.h>

#include "dsp/dsp.h"

enum {
    SAMPLES_MAX = 10 * APERTA_AUDIO_RATE_HZ,
    LEVEL_DROP_DB = 8,
    TAKES_MAX = 4,
    N_BINS = 5, /* of confidence */
};
typedef enum { BY_TABLE, IN_TAKE, ONE_VOWEL, ASTRAY, N_WAYS } heard_way;
static const char *const WAYS[N_WAYS] = {"table", "take", "vowel", "astray"};
static const aperta_voice VOICES[2] = {APERTA_VOICE_MAN, APERTA_VOICE_WOMAN};
const char HEARD_LETTER[HEARD_LETTERS + 1] = "aeiou";

/* Row: meant; column: heard, the last for nothing or another vowel. */
typedef struct {
    guint heard[HEARD_LETTERS][HEARD_LETTERS + 1];
} confusion;

struct heard_board {
    double sum[HEARD_N_SIDES][2][2][N_WAYS]; /* of people's figures: side, woman, fit */
    guint people[HEARD_N_SIDES][2];
    guint bin_n[N_BINS], bin_right[N_BINS];
    double bin_sum[N_BINS];
};

heard_board *heard_board_new(void)
{
    return g_new0(heard_board, 1);
}

void heard_board_free(heard_board *board)
{
    g_free(board);
}

/* Which letter a vowel would be written with; HEARD_LETTERS for none. */
static guint letter_of(const aperta_vowel *vowel)
{
    static const char *const CLASSES[HEARD_LETTERS] = {"æ a ɑ ɒ ʌ", "e ɛ", "i ɪ", "o ɔ", "u ʊ"};
    for (guint i = 0; vowel != NULL && i < HEARD_LETTERS; i++) {
        g_auto(GStrv) members = g_strsplit(CLASSES[i], " ", -1);
        if (g_strv_contains((const char *const *)members, vowel->ipa))
            return i;
    }
    return HEARD_LETTERS;
}

/* ---- reading ----------------------------------------------------------------------------------------------------- */

static gboolean is_loud(const aperta_f0 *frame, float most_db)
{
    return frame->voiced && frame->level_db > most_db - (float)LEVEL_DROP_DB;
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
    for (first = loudest; first > 0 && is_loud(&track->frames[first - 1], most_db); first--)
        continue;
    for (last = loudest; last + 1 < track->n_frames && is_loud(&track->frames[last + 1], most_db); last++)
        continue;
    double f0_hz[1 << 12];
    guint n = 0;
    for (guint i = first; i <= last && n < G_N_ELEMENTS(f0_hz); i++)
        f0_hz[n++] = track->frames[i].f0_hz;
    aperta_span span = {aperta_f0_track_time_s(track, first), aperta_f0_track_time_s(track, last)};
    return (aperta_note){.span = span, .steady = span, .f0_hz = dsp_quantile(f0_hz, n, 0.5)};
}

gboolean heard_listen(heard_person *person, const float *samples, gsize n, double band_hz, guint letter, guint take)
{
    aperta_pitch_config pitch_config = aperta_pitch_config_default(APERTA_AUDIO_RATE_HZ);
    g_autoptr(aperta_pitch) pitch = aperta_pitch_create(&pitch_config);
    aperta_pitch_push(pitch, samples, n);
    g_autoptr(aperta_f0_track) track = aperta_pitch_finish(pitch, 0.0, NULL);
    aperta_note note = loudest_part(track);
    if (note.f0_hz <= 0.0)
        return FALSE;
    g_assert(person->n < HEARD_NOTES_MAX && take < TAKES_MAX);
    heard_note *heard = &person->notes[person->n++];
    *heard = (heard_note){.letter = letter, .take = take, .f0_hz = note.f0_hz};
    for (int v = 0; v < 2; v++) {
        aperta_tract_config config = {APERTA_AUDIO_RATE_HZ, VOICES[v], band_hz};
        aperta_tract_reading reading = {0};
        g_autoptr(aperta_tract) tract = aperta_tract_create(&config);
        aperta_tract_read(tract, samples, n, 0.0, track, &note, &reading, NULL);
        heard->fit[v] = reading.posterior;
        dsp_posterior_of_resonances(reading.lpc, &heard->lpc[v]);
    }
    return TRUE;
}

gboolean heard_listen_to_file(heard_person *person, const char *path, guint letter, guint take)
{
    aperta_audio_options options = {.channel = APERTA_AUDIO_MIX};
    g_autoptr(aperta_audio) audio = aperta_audio_open(path, &options, NULL);
    g_autofree float *samples = g_new(float, SAMPLES_MAX);
    gsize n = 0;
    gssize got;
    if (audio == NULL)
        return FALSE;
    int rate_hz = aperta_audio_get_info(audio)->sample_rate_hz;
    while (n < SAMPLES_MAX && (got = aperta_audio_read(audio, samples + n, SAMPLES_MAX - n, NULL)) > 0)
        n += (gsize)got;
    return heard_listen(person, samples, n, rate_hz < APERTA_AUDIO_RATE_HZ ? 0.45 * rate_hz : 0.0, letter, take);
}

/* ---- naming ------------------------------------------------------------------------------------------------------ */

static const aperta_posterior *posterior_of(const heard_note *note, gboolean woman, gboolean by_fit)
{
    return by_fit ? &note->fit[woman] : &note->lpc[woman];
}

static void count_confidence(heard_board *board, const aperta_vowel_hearing *hearing, gboolean right)
{
    guint bin = (guint)MIN(hearing->confidence * N_BINS, N_BINS - 1);
    board->bin_n[bin]++;
    board->bin_right[bin] += right;
    board->bin_sum[bin] += hearing->confidence;
}

/* The notes of one take: those that are in it. */
static void name_take(heard_board *board, const heard_person *person, const gboolean *in_take, heard_way way,
                      gboolean by_fit, confusion *c)
{
    gboolean woman = way == ASTRAY ? !person->woman : person->woman;
    g_autoptr(aperta_vowel_table) table = aperta_vowel_table_load(aperta_vowel_table_for_voice(VOICES[woman]), NULL);
    if (table == NULL)
        g_error("no vowel table");
    g_autoptr(aperta_vowel_ear) ear = aperta_vowel_ear_new(table);
    if (way != BY_TABLE && !aperta_vowel_ear_add_accents(ear, 0.0, NULL))
        g_error("no vowel tables");
    const aperta_posterior *take[HEARD_NOTES_MAX];
    guint n = 0;
    for (guint i = 0; i < person->n; i++)
        if (in_take[i])
            aperta_vowel_ear_listen(ear, take[n++] = posterior_of(&person->notes[i], woman, by_fit));
    aperta_vowel_ear_expect_exercise(ear, take, n);
    for (guint i = 0; i < person->n; i++) {
        const heard_note *note = &person->notes[i];
        if (!in_take[i])
            continue;
        aperta_vowel_hearing hearing = aperta_vowel_hear(ear, posterior_of(note, woman, by_fit), note->f0_hz);
        guint letter = letter_of(hearing.heard);
        c->heard[note->letter][letter]++;
        if (way == ONE_VOWEL && by_fit && person->side == HEARD_JUDGE && hearing.heard != NULL)
            count_confidence(board, &hearing, letter == note->letter);
    }
}

static void name_person(heard_board *board, const heard_person *person, heard_way way, gboolean by_fit, confusion *c)
{
    gboolean in_take[HEARD_NOTES_MAX];

    if (way == BY_TABLE || way == IN_TAKE) {
        for (guint i = 0; i < person->n; i++)
            in_take[i] = TRUE;
        name_take(board, person, in_take, way, by_fit, c);
        return;
    }
    for (guint letter = 0; letter < HEARD_LETTERS; letter++)
        for (guint take = 0; take < TAKES_MAX; take++) {
            for (guint i = 0; i < person->n; i++)
                in_take[i] = person->notes[i].letter == letter && person->notes[i].take == take;
            name_take(board, person, in_take, way, by_fit, c);
        }
}

/* Percent, over the classes that were said. */
static double right_of(const confusion *c)
{
    double sum = 0.0;
    guint classes = 0;
    for (guint i = 0; i < HEARD_LETTERS; i++) {
        guint all = 0;
        for (guint j = 0; j <= HEARD_LETTERS; j++)
            all += c->heard[i][j];
        if (all == 0)
            continue;
        sum += 100.0 * c->heard[i][i] / all;
        classes++;
    }
    return classes > 0 ? sum / classes : 0.0;
}

static void print_confusion(const confusion *c)
{
    for (guint i = 0; i < HEARD_LETTERS; i++) {
        printf("  %c:", HEARD_LETTER[i]);
        for (guint j = 0; j <= HEARD_LETTERS; j++)
            if (c->heard[i][j] > 0)
                printf(" %u%c", c->heard[i][j], j < HEARD_LETTERS ? HEARD_LETTER[j] : '-');
    }
    printf("\n");
}

void heard_add(heard_board *board, const heard_person *person, gboolean print)
{
    confusion one_vowel = {0};
    double right[2][N_WAYS];

    if (person->n == 0)
        return;
    for (int fit = 0; fit < 2; fit++)
        for (heard_way way = 0; way < N_WAYS; way++) {
            confusion c = {0};
            name_person(board, person, way, fit, &c);
            right[fit][way] = right_of(&c);
            board->sum[person->side][person->woman][fit][way] += right[fit][way];
            if (fit == 1 && way == ONE_VOWEL)
                one_vowel = c;
        }
    board->people[person->side][person->woman]++;
    if (!print)
        return;
    printf("%-24s %-6s lpc", person->label, person->side == HEARD_CHOOSE ? "choose" : "judge");
    for (int fit = 0; fit < 2; fit++) {
        for (heard_way way = 0; way < N_WAYS; way++)
            printf(" %3.0f", right[fit][way]);
        printf("%s", fit == 0 ? "  fit" : " ");
    }
    print_confusion(&one_vowel);
}

/* ---- printing ---------------------------------------------------------------------------------------------------- */

static void print_means(const heard_board *board, heard_side side, gboolean men, gboolean women, const char *who)
{
    guint people = men * board->people[side][0] + women * board->people[side][1];

    if (people == 0)
        return;
    printf("  %-6s %3u %-6s", side == HEARD_CHOOSE ? "choose" : "judge", people, who);
    for (int fit = 0; fit < 2; fit++) {
        printf("  %s", fit ? "fit" : "lpc");
        for (heard_way way = 0; way < N_WAYS; way++)
            printf("  %s %4.1f", WAYS[way],
                   (men * board->sum[side][0][fit][way] + women * board->sum[side][1][fit][way]) / people);
    }
    printf("\n");
}

gboolean heard_print(const heard_board *board, const char *title)
{
    guint people = 0;
    for (heard_side side = 0; side < HEARD_N_SIDES; side++)
        people += board->people[side][0] + board->people[side][1];
    if (people == 0)
        return FALSE;
    printf("%s: heard right, percent, mean of five classes and of people\n", title);
    for (heard_side side = 0; side < HEARD_N_SIDES; side++) {
        print_means(board, side, TRUE, TRUE, "people");
        print_means(board, side, TRUE, FALSE, "men");
        print_means(board, side, FALSE, TRUE, "women");
    }
    printf("  judge, takes of one vowel, fit: mean confidence : heard right (notes)");
    for (guint b = 0; b < N_BINS; b++)
        if (board->bin_n[b] > 0)
            printf("  %.0f:%.0f (%u)", 100.0 * board->bin_sum[b] / board->bin_n[b],
                   100.0 * board->bin_right[b] / board->bin_n[b], board->bin_n[b]);
    printf("\n");
    return TRUE;
}
