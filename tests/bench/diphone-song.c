/* diphone-song.c - see diphone-song.h. */
#include "diphone-song.h"

#include "synth-random.h"

#include <aperta/audio.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

static const char VOWELS[] = "aeiou";
#define PAUSE     '_'
#define FIRST_S   0.3
#define TARGET_S  0.0125 /* between the targets of the pitch */
#define UNASKED_S 0.03   /* about a change of voicing, whose place a diphone's label knows no better */

/* Women, men and a child; the pitches are within what the recordings take without breaking. */
const diphone_voice diphone_voices[DIPHONE_VOICES] = {
    {"lp_diphone", "Italian woman", 53, 69, "ptkbdgszfvmnlr", {"a", "e", "i", "o", "u"}, "", "#", FALSE},
    {"pc_diphone", "Italian man", 43, 58, "ptkbdgszfvmnlr", {"a", "e", "i", "o", "u"}, "", "#", FALSE},
    {"czech_machac", "Czech man", 41, 57, "ptkbdgszfvmnlrh", {"a", "e", "i", "o", "u"}, "", "#", FALSE},
    {"czech_krb", "Czech child", 57, 69, "ptkbdgszfvmnlrh", {"a", "e", "i", "o", "u"}, "", "#", FALSE},
    {"ked_diphone",
     "American man",
     41,
     57,
     "ptkbdgszfvmnlrjh",
     {"aa", "eh", "iy", "ao", "uw"},
     "j=y h=hh",
     "pau",
     FALSE},
    {"suo_fi_lj_diphone", "Finnish woman", 53, 69, "ptkbdgsfvmnlrjh", {"a:", "e:", "i:", "o:", "u:"}, "", "#", TRUE},
    {"hy_fi_mv_diphone", "Finnish man", 40, 57, "ptkbdgsfvmnlrjh", {"a:", "e:", "i:", "o:", "u:"}, "", "#", TRUE},
    {"czech_dita", "Czech woman", 54, 69, "ptkbdgszfvmnlrh", {"a", "e", "i", "o", "u"}, "", "#", TRUE},
    {"czech_ph", "another Czech man", 42, 58, "ptkbdgszfvmnlrh", {"a", "e", "i", "o", "u"}, "", "#", TRUE},
    {"kal_diphone",
     "another American man",
     41,
     57,
     "ptkbdgszfvmnlrjh",
     {"aa", "eh", "iy", "ao", "uw"},
     "j=y h=hh",
     "pau",
     TRUE},
};

const char *const diphone_kind_names[DIPHONE_KINDS] = {"syllables", "repeated", "legato", "slides",
                                                       "fast",      "vowels",   "wide"};

typedef struct {
    double start_s, end_s; /* of the vowel; a legato note's start is the middle of the slide */
    double midi;
    char consonant; /* see diphone_song_consonant */
    char vowel;
    gboolean rest_before;
    double slide_s;           /* length of the way from the note before */
    double scoop_st, scoop_s; /* starts so far from its pitch and reaches it in that time */
    double fall_st;           /* at its end */
    double extent_cents, rate_hz;
    double swell, swell_phase; /* share by which the extent swells and shrinks, and where that starts, radians */
    double gain_db;
} diphone_note;

typedef struct {
    char letter; /* or PAUSE */
    double start_s, end_s;
} diphone_segment;

/* ---- drawing -------------------------------------------------------------------------------------------------- */

static char draw_letter(const char *letters, synth_random *random)
{
    return letters[synth_random_int(random, 0, (int)strlen(letters) - 1)];
}

static double consonant_s(char consonant, double room_s, synth_random *random)
{
    double usual = strchr("ptkszf", consonant) != NULL ? 0.09 : strchr("lrj", consonant) != NULL ? 0.06 : 0.075;

    return MIN(usual * synth_random_uniform(random, 0.75, 1.4), 0.45 * room_s);
}

static double draw_length(diphone_kind kind, synth_random *random)
{
    static const double range[DIPHONE_KINDS][2] = {{0.25, 0.9}, {0.2, 0.6}, {0.2, 0.6}, {0.3, 0.9},
                                                   {0.11, 0.2}, {0.2, 0.5}, {0.5, 1.2}};

    return range[kind][0] * pow(range[kind][1] / range[kind][0], synth_random_uniform(random, 0.0, 1.0));
}

/* Steps of a major scale, some leaps; repeated pitches where the kind asks for them. */
static int draw_step(diphone_kind kind, synth_random *random)
{
    int size = synth_random_int(random, 0, 9);

    if (kind == DIPHONE_REPEATED && size < 7)
        return 0;
    if (kind == DIPHONE_SYLLABLES && size == 0)
        return 0;
    int step = size < 7 || kind == DIPHONE_FAST ? synth_random_int(random, 1, 2) : synth_random_int(random, 3, 7);
    return synth_random_int(random, 0, 1) ? step : -step;
}

static int scale_midi(const diphone_voice *voice, int key, int degree)
{
    static const int major[7] = {0, 2, 4, 5, 7, 9, 11};
    int octave = (int)floor(degree / 7.0);

    return voice->low_midi + key + 12 * octave + major[degree - 7 * octave];
}

/* What begins the note: a consonant, or nothing where the kind allows it. */
static char draw_onset(const diphone_song *song, guint i, gboolean rest, gboolean repeated, synth_random *random)
{
    int choice = synth_random_int(random, 0, 99);
    gboolean legato = song->kind == DIPHONE_LEGATO || song->kind == DIPHONE_WIDE   ? choice < 65
                      : song->kind == DIPHONE_SLIDES || song->kind == DIPHONE_FAST ? choice < 35
                                                                                   : FALSE;

    if (i == 0 || rest)
        return choice < 25 ? '-' : draw_letter(song->voice->consonants, random);
    if (song->kind == DIPHONE_VOWELS && repeated)
        return '=';
    if (legato && !repeated)
        return '~';
    return draw_letter(song->voice->consonants, random);
}

/* Not every pair of vowels has been recorded: i next to another is left out, and so is j before it. */
static char draw_vowel(char consonant, char before, synth_random *random)
{
    char vowel;

    if (consonant == '~')
        return before;
    do
        vowel = draw_letter(consonant == '=' || consonant == 'j' ? "aeou" : "aeiou", random);
    while (consonant == '=' && vowel == before);
    return vowel;
}

static void draw_manner(diphone_note *note, diphone_kind kind, double length_s, synth_random *random)
{
    note->slide_s = kind == DIPHONE_SLIDES ? synth_random_uniform(random, 0.10, 0.25)
                    : kind == DIPHONE_FAST ? synth_random_uniform(random, 0.03, 0.06)
                                           : synth_random_uniform(random, 0.05, 0.11);
    if (kind == DIPHONE_SLIDES && synth_random_int(random, 0, 2) == 0) {
        note->scoop_st = -synth_random_uniform(random, 0.7, 3.0);
        note->scoop_s = synth_random_uniform(random, 0.08, 0.16);
    }
    if (kind == DIPHONE_SLIDES && synth_random_int(random, 0, 3) == 0)
        note->fall_st = -synth_random_uniform(random, 1.0, 4.0);
    if (length_s > 0.35 && synth_random_int(random, 0, 1)) {
        note->extent_cents = synth_random_uniform(random, 25.0, 90.0);
        note->rate_hz = synth_random_uniform(random, 4.8, 6.6);
    }
    note->gain_db = synth_random_uniform(random, -5.0, 1.0);
    if (kind == DIPHONE_WIDE) {
        note->extent_cents = synth_random_uniform(random, 80.0, 170.0);
        note->rate_hz = synth_random_uniform(random, 4.8, 6.6);
        note->swell = synth_random_uniform(random, 0.0, 0.5);
        note->swell_phase = synth_random_uniform(random, 0.0, 2.0 * G_PI);
        note->slide_s = synth_random_uniform(random, 0.06, 0.2);
    }
}

static void draw_notes(diphone_song *song, synth_random *random)
{
    int key = synth_random_int(random, 0, 5), degree = synth_random_int(random, 1, 4);
    guint n = song->kind == DIPHONE_FAST ? 14 : 10;
    double at_s = FIRST_S;
    diphone_note before = {.midi = -1.0};

    for (guint i = 0; i < n; i++) {
        diphone_note note = {0};
        int midi = scale_midi(song->voice, key, degree);
        gboolean repeated = i > 0 && fabs(midi - before.midi) < 0.6;
        note.rest_before = i > 0 && song->kind != DIPHONE_VOWELS && synth_random_int(random, 0, 5) == 0;
        note.consonant = draw_onset(song, i, note.rest_before, repeated, random);
        note.vowel = draw_vowel(note.consonant, before.vowel, random);
        double length_s = draw_length(song->kind, random);
        draw_manner(&note, song->kind, length_s, random);
        note.midi = note.consonant == '=' ? before.midi : midi + CLAMP(synth_random_gauss(random, 0.1), -0.25, 0.25);
        at_s += note.rest_before ? synth_random_uniform(random, 0.25, 0.6) : 0.0;
        note.start_s = at_s;
        note.end_s = at_s += length_s;
        g_array_append_val(song->notes, note);
        before = note;
        gboolean stay = song->kind == DIPHONE_VOWELS && synth_random_int(random, 0, 2) > 0;
        int step = stay ? 0 : draw_step(song->kind, random);
        degree = MAX(degree + step, 0);
        while (scale_midi(song->voice, key, degree) > song->voice->high_midi)
            degree -= 7;
    }
    song->seconds = at_s + 0.3;
}

static void add_segment(diphone_song *song, char letter, double end_s)
{
    diphone_segment *last =
        song->segments->len > 0 ? &g_array_index(song->segments, diphone_segment, song->segments->len - 1) : NULL;
    diphone_segment s = {letter, last != NULL ? last->end_s : 0.0, end_s};

    g_array_append_val(song->segments, s);
}

/* The consonants take their time from the vowel or the rest before them. */
static void lay_segments(diphone_song *song, synth_random *random)
{
    diphone_note *notes = (diphone_note *)(void *)song->notes->data;
    char vowel = PAUSE;

    for (guint i = 0; i < song->notes->len; i++) {
        diphone_note *note = &notes[i];
        gboolean spoken = strchr("-~=", note->consonant) == NULL;
        double room_s = i == 0 || note->rest_before ? 0.25 : note->start_s - notes[i - 1].start_s;
        double before_s = spoken ? consonant_s(note->consonant, room_s, random) : 0.0;
        if (note->rest_before)
            add_segment(song, vowel, notes[i - 1].end_s);
        else if (i > 0)
            notes[i - 1].end_s = note->start_s - before_s;
        if (i == 0 || note->rest_before)
            vowel = PAUSE;
        if (note->consonant != '~')
            add_segment(song, vowel, note->start_s - before_s);
        if (spoken)
            add_segment(song, note->consonant, note->start_s);
        vowel = note->vowel;
    }
    add_segment(song, vowel, notes[song->notes->len - 1].end_s);
    add_segment(song, PAUSE, song->seconds);
}

diphone_song *diphone_song_draw(const diphone_voice *voice, diphone_kind kind, guint64 seed)
{
    diphone_song *song = g_new0(diphone_song, 1);
    synth_random random = synth_random_seed(synth_random_spread(seed));

    *song = (diphone_song){.voice = voice, .kind = kind, .seed = seed};
    song->notes = g_array_new(FALSE, TRUE, sizeof(diphone_note));
    song->segments = g_array_new(FALSE, TRUE, sizeof(diphone_segment));
    draw_notes(song, &random);
    lay_segments(song, &random);
    return song;
}

void diphone_song_free(diphone_song *song)
{
    if (song == NULL)
        return;
    g_array_unref(song->notes);
    g_array_unref(song->segments);
    g_free(song);
}

char diphone_song_consonant(const diphone_song *song, guint i)
{
    return g_array_index(song->notes, diphone_note, i).consonant;
}

/* ---- the curve of the pitch ----------------------------------------------------------------------------------- */

/* Share of the way from the note before that is behind the singer; after it she swings a little over the mark. */
static double arrived(double since_middle_s, double slide_s)
{
    double x = since_middle_s / slide_s + 0.5;

    if (x <= 0.0)
        return 0.0;
    if (x < 1.0)
        return (1.0 - cos(G_PI * x)) / 2.0;
    double late_s = since_middle_s - slide_s / 2.0;
    return 1.0 + 0.06 * sin(2.0 * G_PI * 5.0 * late_s) * exp(-late_s / 0.08);
}

static double vibrato_st(const diphone_note *note, double time_s)
{
    double since = time_s - note->start_s;
    double grown = CLAMP((since - 0.12) / 0.15, 0.0, 1.0);

    double swollen = 1.0 + note->swell * sin(2.0 * G_PI * 0.9 * since + note->swell_phase);
    return note->extent_cents / 100.0 * grown * swollen * sin(2.0 * G_PI * note->rate_hz * since);
}

static double note_st(const diphone_note *note, double time_s)
{
    double st = note->midi + vibrato_st(note, time_s);

    if (note->scoop_s > 0.0)
        st += note->scoop_st * (1.0 - arrived(time_s - note->start_s - note->scoop_s / 2.0, note->scoop_s));
    if (note->fall_st < 0.0)
        st += note->fall_st * CLAMP((time_s - note->end_s + 0.12) / 0.12, 0.0, 1.0);
    return st;
}

/* With a consonant the way is gone before the vowel begins, without one its middle is the start of the note. */
static double song_st(const diphone_song *song, const synth_wander *drift, double time_s)
{
    const diphone_note *notes = (const diphone_note *)(const void *)song->notes->data;
    guint i = 0;

    while (i + 1 < song->notes->len && notes[i + 1].start_s - notes[i + 1].slide_s <= time_s)
        i++;
    double st = note_st(&notes[i], time_s) + 0.05 * synth_wander_at(drift, time_s);
    if (i == 0)
        return st;
    double middle_s = notes[i].start_s - (notes[i].consonant == '~' ? 0.0 : 0.4 * notes[i].slide_s);
    double share = notes[i].rest_before ? 1.0 : arrived(time_s - middle_s, notes[i].slide_s);
    return st + (1.0 - share) * (note_st(&notes[i - 1], time_s) - note_st(&notes[i], time_s));
}

static synth_wander song_drift(const diphone_song *song)
{
    synth_random random = synth_random_seed(synth_random_spread(song->seed + 77));

    return synth_wander_draw(&random, 0.5, 10.0);
}

static double song_hz(const diphone_song *song, const synth_wander *drift, double time_s)
{
    return aperta_midi_to_hz(song_st(song, drift, time_s), 440.0);
}

/* ---- festival -------------------------------------------------------------------------------------------------- */

/* The voice's name for a letter, allocated. */
static char *phone_of(const diphone_voice *voice, char letter)
{
    const char *vowel = strchr(VOWELS, letter);

    if (letter == PAUSE)
        return g_strdup(voice->pause);
    if (vowel != NULL)
        return g_strdup(voice->vowels[vowel - VOWELS]);
    g_auto(GStrv) others = g_strsplit(voice->others, " ", -1);
    for (char **o = others; *o != NULL; o++)
        if ((*o)[0] == letter)
            return g_strdup(*o + 2);
    return g_strdup_printf("%c", letter);
}

static char *song_path(const diphone_song *song, const char *folder)
{
    return g_strdup_printf("%s/%s-%s-%" G_GUINT64_FORMAT ".wav", folder, song->voice->name,
                           diphone_kind_names[song->kind], song->seed);
}

/* Festival would stretch a vowel as a whole, its transitions with it. Here 20 ms of its middle are held and both ends
 * keep the speaker's pace; the join of the two diphones in its middle, where a pulse is often broken, is left out. */
static const char HOLD_VOWELS[] =
    "(set! plain_mapping us_mapping)\n"
    "(define (hold_part seg source_s end_s)\n"
    "  (item.insert seg (list (item.name seg) (list (list 'end end_s) (list 'source_end source_s))) 'before))\n"
    "(define (hold_vowel seg join_s)\n"
    "  (let ((s0 (item.feat seg \"p.source_end\")) (s1 (item.feat seg \"source_end\"))\n"
    "        (t0 (item.feat seg \"p.end\")) (t1 (item.feat seg \"end\")))\n"
    "    (if (and (member_string (item.name seg) held_vowels) (> (- t1 t0) (- s1 s0)) (> (- join_s s0) 0.04))\n"
    "      (let ((from (- join_s 0.035)) (over (+ join_s 0.006)))\n"
    "        (hold_part seg from (+ t0 (- from s0)))\n"
    "        (hold_part seg (+ from 0.02) (- t1 (- s1 over)))\n"
    "        (hold_part seg over (+ 0.0001 (- t1 (- s1 over))))))))\n"
    "(define (us_mapping utt method)\n"
    "  (let ((units (utt.relation.items utt 'Unit)))\n"
    "    (mapcar (lambda (seg)\n"
    "              (if (and units (item.prev seg))\n"
    "                (begin (hold_vowel seg (item.feat (car units) 'end)) (set! units (cdr units)))))\n"
    "            (utt.relation.items utt 'Segment)))\n"
    "  (plain_mapping utt method))\n";

static void add_script(GString *script, const diphone_song *song, const char *path)
{
    synth_wander drift = song_drift(song);

    g_string_append_printf(script, "(if (member '%s (voice.list)) (begin (voice_%s)\n(set! held_vowels '(",
                           song->voice->name, song->voice->name);
    for (int i = 0; i < 5; i++)
        g_string_append_printf(script, "\"%s\" ", song->voice->vowels[i]);
    g_string_append(script, "))\n(set! u (Utterance Segments (");
    for (guint i = 0; i < song->segments->len; i++) {
        const diphone_segment *s = &g_array_index(song->segments, diphone_segment, i);
        g_autofree char *phone = phone_of(song->voice, s->letter);
        g_string_append_printf(script, "\n(%s %.4f", phone, s->end_s - s->start_s);
        for (double t = s->start_s; t < s->end_s; t += TARGET_S)
            g_string_append_printf(script, " (%.4f %.3f)", t - s->start_s, song_hz(song, &drift, t));
        g_string_append(script, ")");
    }
    g_string_append_printf(script, ")))\n(utt.synth u) (utt.save.wave u \"%s\" 'riff)))\n", path);
}

gboolean diphone_sing_all(GPtrArray *songs, const char *folder)
{
    g_autofree char *program = g_find_program_in_path("festival");
    g_autofree char *file = g_build_filename(folder, "songs.scm", NULL);
    g_autoptr(GString) script = g_string_new(HOLD_VOWELS);
    const char *argv[] = {program, "-b", file, NULL};

    if (program == NULL)
        return FALSE;
    for (guint i = 0; i < songs->len; i++) {
        g_autofree char *path = song_path(songs->pdata[i], folder);
        if (!g_file_test(path, G_FILE_TEST_EXISTS))
            add_script(script, songs->pdata[i], path);
    }
    gboolean sung =
        g_file_set_contents(file, script->str, -1, NULL) &&
        g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, NULL, NULL, NULL, NULL);
    g_unlink(file);
    return sung;
}

/* ---- sound and truth -------------------------------------------------------------------------------------------- */

static gboolean is_voiced(char letter)
{
    return strchr("aeioumnlrjv", letter) != NULL;
}

static gboolean is_unvoiced(char letter)
{
    return letter == PAUSE || strchr("ptksf", letter) != NULL;
}

static double true_hz(const diphone_song *song, const synth_wander *drift, guint *at, double time_s)
{
    const diphone_segment *segments = (const diphone_segment *)(const void *)song->segments->data;
    guint last = song->segments->len - 1;

    while (*at < last && segments[*at].end_s <= time_s)
        (*at)++;
    const diphone_segment *s = &segments[*at];
    gboolean near_next =
        *at < last && s->end_s - time_s < UNASKED_S && is_voiced(s->letter) != is_voiced((s + 1)->letter);
    gboolean near_before =
        *at > 0 && time_s - s->start_s < UNASKED_S && is_voiced(s->letter) != is_voiced((s - 1)->letter);
    if (near_next || near_before)
        return -1.0;
    if (is_unvoiced(s->letter))
        return 0.0;
    return is_voiced(s->letter) ? song_hz(song, drift, time_s) : -1.0;
}

static synth_onset onset_of(char consonant)
{
    if (strchr("ptkbdg", consonant) != NULL)
        return SYNTH_ONSET_STOP;
    if (strchr("szfv", consonant) != NULL)
        return SYNTH_ONSET_FRICATIVE;
    if (strchr("mn", consonant) != NULL)
        return SYNTH_ONSET_NASAL;
    if (strchr("lrj", consonant) != NULL)
        return SYNTH_ONSET_LATERAL;
    return consonant == 'h' ? SYNTH_ONSET_ASPIRATE : SYNTH_ONSET_VOWEL;
}

static void add_truth(const diphone_song *song, synth_take *take)
{
    synth_wander drift = song_drift(song);
    guint at = 0;

    take->n_frames = (guint)(song->seconds / SYNTH_TRUTH_HOP_S);
    take->f0_hz = g_new0(double, take->n_frames);
    for (guint i = 0; i < take->n_frames; i++)
        take->f0_hz[i] = true_hz(song, &drift, &at, i * SYNTH_TRUTH_HOP_S);
    take->n_notes = song->notes->len;
    take->notes = g_new0(synth_truth, take->n_notes);
    for (guint i = 0; i < take->n_notes; i++) {
        const diphone_note *n = &g_array_index(song->notes, diphone_note, i);
        take->notes[i] = (synth_truth){.start_s = n->start_s,
                                       .end_s = n->end_s,
                                       .midi = n->midi,
                                       .f0_hz = aperta_midi_to_hz(n->midi, 440.0),
                                       .onset = onset_of(n->consonant),
                                       .vibrato_partial = TRUE};
    }
}

/* A singer is not as even as joined diphones: each note has its own level. */
static double note_gain_db(const diphone_song *song, guint *at, double time_s)
{
    const diphone_note *notes = (const diphone_note *)(const void *)song->notes->data;

    while (*at + 1 < song->notes->len && notes[*at + 1].start_s <= time_s)
        (*at)++;
    double late = CLAMP((time_s - notes[*at].start_s) / 0.15, 0.0, 1.0);
    double before_db = *at > 0 ? notes[*at - 1].gain_db : notes[*at].gain_db;
    return before_db + late * (notes[*at].gain_db - before_db);
}

/* What a diphone calls a pause is often the end of a voice that dies away: it is faded, so that a pause is one. */
static double pause_gain_db(const diphone_song *song, guint *at, double time_s)
{
    const diphone_segment *segments = (const diphone_segment *)(const void *)song->segments->data;

    while (*at + 1 < song->segments->len && segments[*at].end_s <= time_s)
        (*at)++;
    if (segments[*at].letter != PAUSE)
        return 0.0;
    double before_s = *at > 0 ? time_s - segments[*at].start_s : HUGE_VAL;
    double after_s = *at + 1 < song->segments->len ? segments[*at].end_s - time_s : HUGE_VAL;
    return MAX(-60.0, -1000.0 * MIN(before_s, after_s));
}

static void apply_gain(const diphone_song *song, float *samples, gsize n)
{
    guint note = 0, segment = 0;

    for (gsize i = 0; i < n; i++) {
        double time_s = (double)i / APERTA_AUDIO_RATE_HZ;
        double gain_db = note_gain_db(song, &note, time_s) + pause_gain_db(song, &segment, time_s);
        samples[i] *= (float)pow(10.0, gain_db / 20.0);
    }
}

synth_take *diphone_song_take(const diphone_song *song, const char *folder)
{
    g_autofree char *path = song_path(song, folder);
    aperta_audio_options options = {.channel = APERTA_AUDIO_MIX};
    g_autoptr(aperta_audio) audio = aperta_audio_open(path, &options, NULL);

    if (audio == NULL)
        return NULL;
    synth_take *take = g_new0(synth_take, 1);
    gsize max = (gsize)((song->seconds + 0.5) * APERTA_AUDIO_RATE_HZ);
    gssize got;
    take->sample_rate_hz = APERTA_AUDIO_RATE_HZ;
    take->samples = g_new0(float, max);
    while ((got = aperta_audio_read(audio, take->samples + take->n_samples, max - take->n_samples, NULL)) > 0)
        take->n_samples += (gsize)got;
    apply_gain(song, take->samples, take->n_samples);
    add_truth(song, take);
    return take;
}
