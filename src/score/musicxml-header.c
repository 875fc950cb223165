/* musicxml-header.c - titles, parts, and what stands between the notes: keys, meters, transposition, tempi, repeats. */
#include "score/musicxml-private.h"

#include <math.h>
#include <string.h>

/* ---- before the music -------------------------------------------------------------------------------------------- */

/* Takes text over; an empty one is none. */
static void set_text(char **field, char *text)
{
    if (text != NULL && text[0] != '\0' && *field == NULL)
        *field = text;
    else
        g_free(text);
}

/* Adds a name to those before, unless they are too many already. */
static void add_name(char **field, const char *name)
{
    if (name[0] == '\0' || (*field != NULL && strlen(*field) > SCORE_NAME_BYTES_MAX))
        return;
    char *joined = *field != NULL ? g_strconcat(*field, ", ", name, NULL) : g_strdup(name);
    g_free(*field);
    *field = joined;
}

static void read_creators(score_draft *draft, const xmlNode *identification)
{
    for (const xmlNode *child = identification->children; child != NULL; child = child->next) {
        if (!musicxml_is(child, "creator"))
            continue;
        g_autofree char *type = musicxml_attribute(child, "type");
        g_autofree char *name = musicxml_text(child, NULL);
        if (type == NULL)
            continue;
        if (g_ascii_strcasecmp(type, "composer") == 0)
            add_name(&draft->composer, name);
        else if (g_ascii_strcasecmp(type, "lyricist") == 0 || g_ascii_strcasecmp(type, "poet") == 0)
            add_name(&draft->lyricist, name);
    }
}

static void read_languages(musicxml_reading *reading, const xmlNode *defaults)
{
    for (const xmlNode *child = defaults->children; child != NULL; child = child->next) {
        if (!musicxml_is(child, "lyric-language"))
            continue;
        musicxml_language language = {musicxml_attribute(child, "number"), musicxml_attribute(child, "name"),
                                      musicxml_attribute(child, "lang")};
        g_array_append_val(reading->languages, language);
    }
}

static void read_part_list(score_draft *draft, const xmlNode *list)
{
    guint n = 0;

    for (const xmlNode *child = list->children; child != NULL; child = child->next) {
        if (!musicxml_is(child, "score-part") || n++ >= SCORE_PARTS_MAX)
            continue;
        g_autofree char *id = musicxml_attribute(child, "id");
        char *name = musicxml_child_text(child, "part-name");
        score_part *part = score_draft_part(draft, id != NULL ? id : "");
        if (name != NULL && part->name[0] == '\0') {
            g_free(part->name);
            part->name = g_steal_pointer(&name);
        }
        g_free(name);
    }
}

/* A title that is only printed, not named in the header. */
static void read_credit(musicxml_reading *reading, const xmlNode *credit)
{
    g_autofree char *type = musicxml_child_text(credit, "credit-type");

    if (type == NULL || strcmp(type, "title") != 0)
        return;
    if (reading->credit == NULL)
        reading->credit = musicxml_child_text(credit, "credit-words");
}

void musicxml_header(musicxml_reading *reading, const xmlNode *node)
{
    score_draft *draft = reading->draft;

    if (musicxml_is(node, "work"))
        set_text(&draft->title, musicxml_child_text(node, "work-title"));
    else if (musicxml_is(node, "movement-title"))
        set_text(&reading->movement, musicxml_text(node, NULL));
    else if (musicxml_is(node, "identification"))
        read_creators(draft, node);
    else if (musicxml_is(node, "defaults"))
        read_languages(reading, node);
    else if (musicxml_is(node, "part-list"))
        read_part_list(draft, node);
    else if (musicxml_is(node, "credit"))
        read_credit(reading, node);
}

void musicxml_finish_header(musicxml_reading *reading)
{
    score_draft *draft = reading->draft;

    if (reading->movement != NULL && draft->title != NULL && strcmp(reading->movement, draft->title) != 0) {
        char *both = g_strconcat(draft->title, ": ", reading->movement, NULL);
        g_free(draft->title);
        draft->title = both;
    }
    set_text(&draft->title, g_steal_pointer(&reading->movement));
    set_text(&draft->title, g_steal_pointer(&reading->credit));
}

/* ---- keys, meters, transpositions -------------------------------------------------------------------------------- */

/* On the line of fifths an interval of c semitones and d steps lies at 7c - 12d. */
int musicxml_sounding_fifths(const musicxml_staff *staff)
{
    int fifths = staff->fifths;

    if (staff->diatonic_known)
        fifths += 7 * staff->chromatic - 12 * staff->diatonic;
    else
        fifths += 7 * (staff->chromatic % 12);
    while (fifths > 7 || (!staff->diatonic_known && staff->chromatic % 12 != 0 && fifths > 6))
        fifths -= 12;
    while (fifths < -7)
        fifths += 12;
    return fifths;
}

static gboolean applies_to(const xmlNode *node, guint staff)
{
    g_autofree char *number = musicxml_attribute(node, "number");

    return number == NULL || musicxml_staff_index(number) == staff;
}

static void read_key(score_part *part, musicxml_staff *staff, const xmlNode *node)
{
    double fifths;
    g_autofree char *mode = musicxml_child_text(node, "mode");

    if (!musicxml_child_number(node, "fifths", &fifths) || fabs(fifths) > 7.0) {
        part->met[APERTA_SCORE_REMARK_KEY]++;
        return;
    }
    staff->key_known = TRUE;
    staff->fifths = (int)fifths;
    staff->minor = FALSE;
    if (mode == NULL || mode[0] == '\0')
        return;
    static const char *const minor[] = {"minor", "aeolian", "dorian", "phrygian", "locrian"};
    static const char *const plain[] = {"major", "minor", "aeolian", "ionian", "none"};
    gboolean is_plain = FALSE;
    for (gsize i = 0; i < G_N_ELEMENTS(minor); i++)
        staff->minor |= strcmp(mode, minor[i]) == 0;
    for (gsize i = 0; i < G_N_ELEMENTS(plain); i++)
        is_plain |= strcmp(mode, plain[i]) == 0;
    part->met[APERTA_SCORE_REMARK_MODE] += !is_plain;
}

static void read_transpose(musicxml_staff *staff, const xmlNode *node)
{
    double chromatic = 0.0, diatonic = 0.0, octaves = 0.0;

    musicxml_child_number(node, "chromatic", &chromatic);
    musicxml_child_number(node, "octave-change", &octaves);
    staff->diatonic_known = musicxml_child_number(node, "diatonic", &diatonic);
    staff->chromatic = (int)CLAMP(chromatic, -60.0, 60.0);
    staff->diatonic = (int)CLAMP(diatonic, -35.0, 35.0);
    staff->octaves = (int)CLAMP(octaves, -5.0, 5.0);
    if (!staff->diatonic_known && staff->chromatic % 12 == 0) {
        staff->diatonic = staff->chromatic / 12 * 7;
        staff->diatonic_known = TRUE;
    }
}

static void read_divisions(musicxml_part *at, const xmlNode *node)
{
    g_autofree char *text = musicxml_text(node, NULL);
    double divisions;

    if (score_number(text, &divisions) && divisions > 0.0 && divisions < 1e9)
        at->divisions = divisions;
    else
        at->part->met[APERTA_SCORE_REMARK_BAD_DIVISIONS]++;
}

/* The first <beats>/<beat-type>; senza misura has none. */
static void read_time(musicxml_reading *reading, const xmlNode *node)
{
    score_bar *bar = score_draft_bar(reading->draft, reading->at->bar);
    g_autofree char *beats = musicxml_child_text(node, "beats");
    g_autofree char *beat_type = musicxml_child_text(node, "beat-type");

    if (bar->meter.n_beats == 0 && beats != NULL && beat_type != NULL)
        score_meter_parse(beats, beat_type, &bar->meter);
}

static void read_clef(score_part *part, const xmlNode *node)
{
    g_autofree char *sign = musicxml_child_text(node, "sign");

    if (sign == NULL)
        return;
    if (strcmp(sign, "percussion") == 0)
        part->percussion_clef = TRUE;
    else
        part->other_clef = TRUE;
}

/* <key> or <transpose>, of the staff it names or of all. */
static void read_for_staves(musicxml_part *at, const xmlNode *node, gboolean key)
{
    for (guint i = 0; i < SCORE_STAVES_MAX; i++) {
        if (!applies_to(node, i))
            continue;
        if (key)
            read_key(at->part, &at->staves[i], node);
        else
            read_transpose(&at->staves[i], node);
    }
}

void musicxml_attributes(musicxml_reading *reading, const xmlNode *node)
{
    musicxml_part *at = reading->at;

    for (const xmlNode *child = node->children; child != NULL; child = child->next) {
        gboolean key = musicxml_is(child, "key");
        if (musicxml_is(child, "divisions"))
            read_divisions(at, child);
        else if (musicxml_is(child, "time"))
            read_time(reading, child);
        else if (musicxml_is(child, "clef"))
            read_clef(at->part, child);
        else if (key || musicxml_is(child, "transpose"))
            read_for_staves(at, child, key);
    }
    for (guint i = 0; i < SCORE_STAVES_MAX && !at->part->key_known; i++) {
        const musicxml_staff *staff = &at->staves[i];
        at->part->key_known = staff->key_known;
        at->part->first_fifths = musicxml_sounding_fifths(staff);
        at->part->first_minor = staff->minor;
    }
}

/* ---- tempo and repeats ------------------------------------------------------------------------------------------- */

static void add_tempo(musicxml_reading *reading, double offset, double bpm, double ratio, gboolean approximate)
{
    score_tempo tempo = {reading->at->bar, reading->at->cursor + offset, bpm, ratio, approximate};

    if ((bpm >= SCORE_TEMPO_MIN_BPM && bpm <= SCORE_TEMPO_MAX_BPM) ||
        (ratio > SCORE_TEMPO_MIN_RATIO && ratio < SCORE_TEMPO_MAX_RATIO))
        g_array_append_val(reading->draft->tempi, tempo);
}

static void count_jumps(score_part *part, const xmlNode *sound)
{
    static const char *const jumps[] = {"dacapo", "dalsegno", "tocoda", "fine"};

    for (gsize i = 0; i < G_N_ELEMENTS(jumps); i++) {
        g_autofree char *value = musicxml_attribute(sound, jumps[i]);
        part->met[APERTA_SCORE_REMARK_JUMP] += value != NULL && strcmp(value, "no") != 0;
    }
}

void musicxml_sound(musicxml_reading *reading, const xmlNode *node, double offset)
{
    g_autofree char *text = musicxml_attribute(node, "tempo");
    double bpm;

    if (score_number(text, &bpm))
        add_tempo(reading, offset, bpm, 0.0, FALSE);
    count_jumps(reading->at->part, node);
}

/* Quarters of a note value; 0: unknown. */
double musicxml_note_value(const char *type, int dots)
{
    static const struct {
        const char *name;
        double quarters;
    } values[] = {{"1024th", 1.0 / 256}, {"512th", 1.0 / 128}, {"256th", 1.0 / 64}, {"128th", 1.0 / 32},
                  {"64th", 1.0 / 16},    {"32nd", 1.0 / 8},    {"16th", 1.0 / 4},   {"eighth", 1.0 / 2},
                  {"quarter", 1.0},      {"half", 2.0},        {"whole", 4.0},      {"breve", 8.0},
                  {"long", 16.0},        {"maxima", 32.0}};

    for (gsize i = 0; i < G_N_ELEMENTS(values); i++)
        if (strcmp(type, values[i].name) == 0)
            return values[i].quarters * (2.0 - pow(0.5, CLAMP(dots, 0, 4)));
    return 0.0;
}

/* "♩. = 60" has one value and a number, "♩ = ♩." two values: the new one lasts as long as the old one did. */
static void read_metronome(musicxml_reading *reading, const xmlNode *node, double offset)
{
    double quarters[2] = {0.0, 0.0};
    double dot = 0.0; /* what the next dot adds */
    int n = 0;
    const xmlNode *number = musicxml_child(node, "per-minute");

    for (const xmlNode *child = node->children; child != NULL; child = child->next) {
        if (musicxml_is(child, "beat-unit") && n < 2) {
            g_autofree char *type = musicxml_text(child, NULL);
            quarters[n] = musicxml_note_value(type, 0);
            dot = quarters[n++] / 2.0;
        } else if (musicxml_is(child, "beat-unit-dot") && n > 0) {
            quarters[n - 1] += dot;
            dot /= 2.0;
        }
    }
    if (number != NULL && quarters[0] > 0.0) {
        g_autofree char *text = musicxml_text(number, NULL);
        const char *digits = strpbrk(text, "0123456789"); /* "ca. 60-66" */
        if (digits != NULL)
            add_tempo(reading, offset, quarters[0] * g_ascii_strtod(digits, NULL), 0.0, TRUE);
    } else if (quarters[0] > 0.0 && quarters[1] > 0.0) {
        add_tempo(reading, offset, 0.0, quarters[1] / quarters[0], TRUE);
    }
}

void musicxml_direction(musicxml_reading *reading, const xmlNode *node)
{
    const xmlNode *offset_node = musicxml_child(node, "offset");
    double offset = 0.0;

    if (offset_node != NULL) {
        g_autofree char *moves_sound = musicxml_attribute(offset_node, "sound");
        if (moves_sound != NULL && strcmp(moves_sound, "yes") == 0 && musicxml_child_number(node, "offset", &offset))
            offset = musicxml_quarters(reading->at, CLAMP(offset, -1e9, 1e9));
    }
    for (const xmlNode *child = node->children; child != NULL; child = child->next) {
        const xmlNode *metronome = musicxml_is(child, "direction-type") ? musicxml_child(child, "metronome") : NULL;
        if (metronome != NULL)
            read_metronome(reading, metronome, offset);
        else if (musicxml_is(child, "sound"))
            musicxml_sound(reading, child, offset);
    }
}

void musicxml_barline(musicxml_reading *reading, const xmlNode *node)
{
    score_part *part = reading->at->part;
    const xmlNode *ending = musicxml_child(node, "ending");
    g_autofree char *type = ending != NULL ? musicxml_attribute(ending, "type") : NULL;

    part->met[APERTA_SCORE_REMARK_REPEAT] += musicxml_child(node, "repeat") != NULL;
    part->met[APERTA_SCORE_REMARK_REPEAT] += type != NULL && strcmp(type, "start") == 0;
}
