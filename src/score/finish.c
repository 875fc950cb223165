/* finish.c - a draft → the score of one part: which part, its verses, its times, and what a person should know. */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <math.h>
#include <string.h>

/* ---- which part -------------------------------------------------------------------------------------------------- */

static gboolean is_percussion(const score_part *part)
{
    return (part->events->len == 0 && part->n_unpitched > 0) || (part->percussion_clef && !part->other_clef);
}

/* Pitches first, then words, then notes. */
static gboolean is_likelier(const score_part *a, const score_part *b)
{
    gboolean a_sings = a->events->len > 0 && !is_percussion(a);
    gboolean b_sings = b->events->len > 0 && !is_percussion(b);

    if (a_sings != b_sings)
        return a_sings;
    if (a->n_syllables != b->n_syllables)
        return a->n_syllables > b->n_syllables;
    return a->events->len > b->events->len;
}

static guint likeliest_part(const score_draft *draft)
{
    guint best = 0;

    for (guint i = 1; i < draft->parts->len; i++)
        if (is_likelier(g_ptr_array_index(draft->parts, i), g_ptr_array_index(draft->parts, best)))
            best = i;
    return best;
}

static int part_named(const score_draft *draft, const char *name)
{
    guint64 number;

    for (guint i = 0; i < draft->parts->len; i++)
        if (strcmp(score_part_at(draft->parts, i)->id, name) == 0)
            return (int)i;
    g_autofree char *folded = g_utf8_casefold(name, -1);
    for (guint i = 0; i < draft->parts->len; i++) {
        g_autofree char *known = g_utf8_casefold(score_part_at(draft->parts, i)->name, -1);
        if (strcmp(known, folded) == 0)
            return (int)i;
    }
    if (g_ascii_string_to_unsigned(name, 10, 1, draft->parts->len, &number, NULL))
        return (int)number - 1;
    return -1;
}

/* "P1/2" is voice 2 of part P1. */
static int part_and_voice_named(const score_draft *draft, const char *name, int *voice)
{
    const char *slash = strrchr(name, '/');
    int index = part_named(draft, name);

    *voice = -1;
    if (index >= 0 || slash == NULL)
        return index;
    g_autofree char *before = g_strndup(name, (gsize)(slash - name));
    index = part_named(draft, before);
    if (index < 0)
        return -1;
    const score_part *part = score_part_at(draft->parts, index);
    for (guint v = 0; v < part->voices->len; v++)
        if (strcmp(g_ptr_array_index(part->voices, v), slash + 1) == 0)
            *voice = (int)v;
    return *voice >= 0 ? index : -1;
}

static char *list_of_parts(const score_draft *draft)
{
    GString *list = g_string_new(NULL);

    for (guint i = 0; i < draft->parts->len && i < 30; i++) {
        const score_part *part = score_part_at(draft->parts, i);
        g_string_append_printf(list, "%s%s \"%s\"", i > 0 ? ", " : "", part->id, part->name);
    }
    return g_string_free(list, FALSE);
}

static gboolean choose_part(const score_draft *draft, const aperta_score_options *options, guint *index, int *voice,
                            GError **error)
{
    *voice = -1;
    if (options == NULL || options->part == NULL) {
        *index = likeliest_part(draft);
        return TRUE;
    }
    int named = part_and_voice_named(draft, options->part, voice);
    if (named < 0) {
        g_autofree char *list = list_of_parts(draft);
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE, "%s: there is no part \"%s\" (there are: %s)", draft->file,
                    options->part, list);
        return FALSE;
    }
    *index = (guint)named;
    return TRUE;
}

/* ---- notes ------------------------------------------------------------------------------------------------------- */

static double *starts_of_bars(const score_draft *draft)
{
    double *starts = g_new0(double, draft->bars->len + 1);

    for (guint i = 0; i < draft->bars->len; i++)
        starts[i + 1] = starts[i] + g_array_index(draft->bars, score_bar, i).length;
    return starts;
}

/* Bars inherit what they do not say: the meter from the bar before, a number by counting. Returns, for each bar, the
 * quarters of the printed bar that come before it. */
static double *complete_bars(score_draft *draft)
{
    double *before = g_new0(double, draft->bars->len + 1);
    int number = 0;

    for (guint i = 0; i < draft->bars->len; i++) {
        score_bar *bar = &g_array_index(draft->bars, score_bar, i);
        score_bar *last = i > 0 ? bar - 1 : NULL;
        double written;
        if (last != NULL && bar->meter.n_beats == 0)
            bar->meter = last->meter;
        double nominal = bar->meter.n_beats > 0 ? 4.0 * bar->meter.n_beats / bar->meter.beat_type : 0.0;
        if (last == NULL && draft->bars->len > 1 && bar->length < nominal - SCORE_SAME_QUARTERS)
            before[i] = nominal - bar->length; /* a pickup */
        else if (last != NULL && bar->continues &&
                 before[i - 1] + last->length + bar->length <= nominal + SCORE_SAME_QUARTERS)
            before[i] = before[i - 1] + last->length;
        number = score_number(bar->number, &written) ? (int)CLAMP(written, -1e6, 1e6) : number + 1;
        if (bar->number == NULL)
            bar->number = g_strdup_printf("%d", number);
    }
    return before;
}

/* In the order of their verses; what is written there moves over. */
static void take_lyrics(aperta_score_note *note, const score_event *event, const int *verses)
{
    guint n = event->syllables != NULL ? event->syllables->len : 0;

    note->lyrics = g_new0(aperta_lyric, n);
    for (; note->n_lyrics < n; note->n_lyrics++) {
        score_syllable *syllable = score_syllable_at(event->syllables, note->n_lyrics);
        aperta_lyric lyric = {verses[syllable->key], g_steal_pointer(&syllable->text),
                              (aperta_syllabic)syllable->syllabic, g_steal_pointer(&syllable->language)};
        guint at = note->n_lyrics;
        for (; at > 0 && note->lyrics[at - 1].verse > lyric.verse; at--)
            note->lyrics[at] = note->lyrics[at - 1];
        note->lyrics[at] = lyric;
    }
}

typedef struct {
    const score_draft *draft;
    const double *bar_starts;
    const double *before;
    const score_clock *clock;
    const int *verses;
    int octave;
} note_maker;

/* As written, else for the key; where no key is written, as is usual. */
static void spell(aperta_score_note *note, const score_event *event, int octave, const score_part *part)
{
    gboolean minor = part->first_minor;
    /* the octave is the last sign of the name */
    gsize n = strlen(event->name);
    int written = n > 0 ? event->name[n - 1] - '0' : 0;
    aperta_key key = {.known = part->key_known,
                      .tonic = ((event->fifths + (minor ? 3 : 0)) * 7 % 12 + 12) % 12,
                      .minor = minor,
                      .confidence = 1.0};

    if (n < 2 || event->name[n - 2] == '-' || written + octave < 0 || written + octave > 9) {
        aperta_pitch_spell(note->midi, &key, note->name);
        return;
    }
    g_strlcpy(note->name, event->name, sizeof note->name);
    note->name[n - 1] = (char)('0' + written + octave);
}

static void make_note(const note_maker *maker, const score_event *event, const score_part *part,
                      aperta_score_note *note)
{
    const score_bar *bar = &g_array_index(maker->draft->bars, score_bar, event->bar);

    note->start_quarters = maker->bar_starts[event->bar] + event->offset;
    note->length_quarters = event->length;
    note->start_s = score_clock_seconds(maker->clock, note->start_quarters);
    note->end_s = score_clock_seconds(maker->clock, note->start_quarters + event->length);
    note->stress = score_stress(bar, event->offset, maker->before[event->bar]);
    note->midi = event->midi + 12 * maker->octave;
    note->fifths = event->fifths;
    note->element = event->element;
    spell(note, event, maker->octave, part);
    note->bar = g_strdup(bar->number);
    take_lyrics(note, event, maker->verses);
}

/* Leaves out what no pitch of ours names once the octave is added. */
static void keep_in_range(GPtrArray *line, score_part *part, int octave)
{
    for (guint i = 0; i < line->len;) {
        score_event *event = score_event_at(line, i);
        int midi = event->midi + 12 * octave;
        if (midi >= 0 && midi <= 127) {
            i++;
            continue;
        }
        part->met[APERTA_SCORE_REMARK_OUT_OF_RANGE]++;
        score_part_lose(part, event->bar, event->syllables, "range");
        g_ptr_array_remove_index(line, i);
    }
}

/* The line becomes the notes of the score. */
static void make_notes(aperta_score *score, score_part *part, GPtrArray *line, const note_maker *maker)
{
    keep_in_range(line, part, maker->octave);
    score_complete_syllabics(line, part);
    score->n_notes = line->len;
    score->notes = g_new0(aperta_score_note, line->len);
    for (guint i = 0; i < line->len; i++)
        make_note(maker, g_ptr_array_index(line, i), part, &score->notes[i]);
}

/* ---- remarks ----------------------------------------------------------------------------------------------------- */

static void tell_met(const score_part *part, GArray *remarks)
{
    for (aperta_score_remark_kind kind = 0; kind < APERTA_SCORE_N_REMARKS; kind++)
        if (part->met[kind] > 0)
            score_remark(remarks, (aperta_score_remark){.kind = kind, .n = part->met[kind]});
}

/* Another voice's syllables are told with the voice. */
static void tell_lost(const score_part *part, GArray *remarks)
{
    g_autoptr(GPtrArray) texts = g_ptr_array_new();

    for (guint i = 0; i < part->lost->len; i++) {
        const score_lost *lost = &g_array_index(part->lost, score_lost, i);
        if (strcmp(lost->why, "voice") != 0)
            g_ptr_array_add(texts, lost->syllable->text);
    }
    if (texts->len > 0)
        score_remark(remarks, (aperta_score_remark){.kind = APERTA_SCORE_REMARK_LEFT_OUT,
                                                    .syllables = score_remark_texts(texts)});
}

static void list_left_out(aperta_score *score, const score_draft *draft, const score_part *part, const int *verses)
{
    score->n_left_out = part->lost->len;
    score->left_out = g_new0(aperta_left_out, part->lost->len);
    for (guint i = 0; i < part->lost->len; i++) {
        const score_lost *lost = &g_array_index(part->lost, score_lost, i);
        score->left_out[i] =
            (aperta_left_out){g_strdup(lost->syllable->text), verses[lost->syllable->key],
                              g_strdup(g_array_index(draft->bars, score_bar, lost->bar).number), lost->why};
    }
}

static void tell_kind(GArray *remarks, aperta_score_remark_kind kind)
{
    score_remark(remarks, (aperta_score_remark){.kind = kind});
}

static void tell_choice(const aperta_score *score, GArray *remarks)
{
    const aperta_score_part *chosen = &score->parts[score->part];
    guint words_elsewhere = 0;

    for (guint i = 0; i < score->n_parts; i++)
        if (i != score->part)
            words_elsewhere += score->parts[i].n_syllables;
    if (!score->part_chosen && score->n_parts > 1)
        score_remark(remarks, (aperta_score_remark){.kind = APERTA_SCORE_REMARK_PART,
                                                    .n = score->n_parts,
                                                    .most_words = chosen->n_syllables > 0,
                                                    .part_id = g_strdup(chosen->id),
                                                    .part_name = g_strdup(chosen->name)});
    if (score->n_verses == 0)
        tell_kind(remarks, words_elsewhere > 0 ? APERTA_SCORE_REMARK_NO_WORDS_HERE : APERTA_SCORE_REMARK_NO_WORDS);
    if (chosen->percussion)
        tell_kind(remarks, APERTA_SCORE_REMARK_PERCUSSION);
    if (score->tempo_bpm == 0.0)
        tell_kind(remarks, APERTA_SCORE_REMARK_NO_TEMPO);
}

/* Remarks of the part, then those of the file, which are taken out of the draft. */
static void take_remarks(aperta_score *score, score_draft *draft, GArray *remarks)
{
    g_array_append_vals(remarks, draft->remarks->data, draft->remarks->len);
    g_free(g_array_steal(draft->remarks, NULL));
    score->n_remarks = remarks->len;
    score->remarks = g_array_steal(remarks, NULL);
}

/* A score of rests is a score, and its notes are none; where notes are that cannot be sung, something is wrong. */
static gboolean has_only_rests(const score_draft *draft, const score_part *part)
{
    return draft->format == APERTA_SCORE_MUSICXML && draft->bars->len > 0 && part->met[APERTA_SCORE_REMARK_CUE] == 0 &&
           part->met[APERTA_SCORE_REMARK_UNPITCHED] == 0 && part->met[APERTA_SCORE_REMARK_NO_PITCH] == 0;
}

/* ---- the whole --------------------------------------------------------------------------------------------------- */

static aperta_score_part describe_part(const score_part *part, guint n_notes)
{
    return (aperta_score_part){g_strdup(part->id), g_strdup(part->name), n_notes, part->n_syllables,
                               is_percussion(part)};
}

static void set_key(aperta_score *score, const score_part *part)
{
    if (!part->key_known)
        return;
    score->key.known = TRUE;
    score->key.minor = part->first_minor;
    score->key.tonic = (((part->first_fifths + (part->first_minor ? 3 : 0)) * 7) % 12 + 12) % 12;
    score->key.confidence = 1.0;
    score->key_fifths = part->first_fifths;
}

const char *aperta_score_key_tonic(const aperta_score *score)
{
    /* the line of fifths from seven flats major to seven sharps minor */
    static const char *const tonics[] = {"C♭", "G♭", "D♭", "A♭", "E♭", "B♭", "F",  "C",  "G",
                                         "D",  "A",  "E",  "B",  "F♯", "C♯", "G♯", "D♯", "A♯"};

    return score->key.known ? tonics[score->key_fifths + 7 + (score->key.minor ? 3 : 0)] : NULL;
}

static aperta_score *empty_score(score_draft *draft)
{
    aperta_score *score = g_new0(aperta_score, 1);

    score->file = g_strdup(draft->file);
    score->format = draft->format;
    score->title = g_steal_pointer(&draft->title);
    score->composer = g_steal_pointer(&draft->composer);
    score->lyricist = g_steal_pointer(&draft->lyricist);
    score->n_parts = draft->parts->len;
    score->parts = g_new0(aperta_score_part, draft->parts->len);
    return score;
}

aperta_score *score_finish(score_draft *draft, const aperta_score_options *options, GError **error)
{
    guint chosen;
    int voice;

    if (draft->parts->len == 0) {
        score_fail(error, draft->file, 0, "it holds no music (export the score again)");
        return NULL;
    }
    if (!choose_part(draft, options, &chosen, &voice, error))
        return NULL;
    score_part *part = score_part_at(draft->parts, chosen);
    if (part->events->len == 0 && !has_only_rests(draft, part)) {
        score_fail(error, draft->file, 0, "%s no notes with a pitch (a sung part is needed)",
                   options != NULL && options->part != NULL ? "this part has" : "there are");
        return NULL;
    }

    aperta_score *score = empty_score(draft);
    g_autoptr(GArray) remarks = score_remarks_new();
    g_autofree double *before = complete_bars(draft);
    g_autofree double *starts = starts_of_bars(draft);
    g_autofree int *verses = score_verse_numbers(part, remarks, &score->n_verses);
    score_clock *clock = score_clock_new(draft, starts);
    note_maker maker = {draft, starts, before, clock, verses, options != NULL ? options->octave : 0};

    score->part = chosen;
    score->part_chosen = options != NULL && options->part != NULL;
    for (guint i = 0; i < draft->parts->len; i++) {
        score_part *one = score_part_at(draft->parts, i);
        g_autoptr(GPtrArray) line = score_line(one, i == chosen ? voice : -1, starts, i == chosen ? remarks : NULL);
        score->parts[i] = describe_part(one, line->len);
        if (i == chosen)
            make_notes(score, part, line, &maker);
    }
    score->tempo_bpm = score_clock_first_bpm(clock);
    score_clock_free(clock);
    set_key(score, part);
    list_left_out(score, draft, part, verses);
    tell_met(part, remarks);
    tell_lost(part, remarks);
    tell_choice(score, remarks);
    take_remarks(score, draft, remarks);
    return score;
}
