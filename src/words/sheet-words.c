/* sheet-words.c - what stands at a note of a sheet, and around its lines. */
#include "words/sheet-words.h"
#include "result/query.h"

#include <stdlib.h>
#include <string.h>

/* ---- at a note --------------------------------------------------------------------------------------------------- */

const aperta_finding *sheet_shape(const aperta_sheet_note *note)
{
    return result_shape_in(note->advice);
}

aperta_level sheet_level(const aperta_sheet_note *note)
{
    return aperta_findings_level(note->advice);
}

/* "eh", "eh↓" with the jaw let down, "ee›eh" between the two. */
static char *shape_brief(const aperta_shape *shape, const aperta_vowel *from)
{
    gboolean lower = shape->jaw_wide || shape->vowel == from;

    return g_strconcat(shape->before != NULL ? shape->before->respelling : "", shape->before != NULL ? "›" : "",
                       shape->vowel->respelling, lower ? "↓" : "", NULL);
}

const char *sheet_plain_mark(const aperta_finding *finding)
{
    return finding->level == APERTA_LEVEL_CHANGE && finding->mark != NULL ? finding->mark
                                                                          : aperta_level_word(finding->level);
}

char *sheet_mark(const aperta_sheet_note *note)
{
    aperta_level level = sheet_level(note);
    const aperta_finding *finding = sheet_shape(note);

    if (level == APERTA_LEVEL_FINE)
        return NULL;
    if (finding == NULL || finding->level < level)
        return g_strdup(sheet_plain_mark(g_ptr_array_index(note->advice, 0)));
    g_autofree char *shape = shape_brief(finding->shape, note->expected->vowel);
    const char *doubt = note->risk != NULL ? "?" : "";
    return finding->level == APERTA_LEVEL_CHANGE ? g_strconcat(shape, doubt, NULL)
                                                 : g_strconcat("(", shape, ")", doubt, NULL);
}

static gboolean word_goes_on(const aperta_sheet_verse *verse, const aperta_sheet_note *note)
{
    const aperta_underlay *underlay = verse->underlay;
    const aperta_laid_note *laid = &underlay->notes[note->number - 1];
    guint last = laid->first_begun + laid->n_begun - 1;

    return last + 1 < underlay->n_syllables && underlay->syllables[last].word == underlay->syllables[last + 1].word;
}

char *sheet_syllable(const aperta_sheet_verse *verse, const aperta_sheet_note *note)
{
    if (note->syllable == NULL)
        return g_strdup(note->goes_on ? "_" : "");
    g_autofree char *text = words_clean(note->syllable->text);
    gboolean hyphen = word_goes_on(verse, note) && !g_str_has_suffix(text, "-");
    return g_strconcat(text, hyphen ? "-" : "", NULL);
}

const char *sheet_sounds(const aperta_sheet_note *note)
{
    return note->syllable != NULL && note->syllable->ipa != NULL ? note->syllable->ipa : "";
}

/* ---- legend ------------------------------------------------------------------------------------------------------ */

typedef struct {
    gboolean shape, lower, between, optional, watch, doubt, melisma;
    const char *plain; /* the word of a change without a shape; NULL: there is none */
} signs;

static signs signs_of(const aperta_sheet *sheet)
{
    signs found = {FALSE};

    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = sheet_note_at(sheet, i);
        g_autofree char *mark = sheet_mark(note);
        found.melisma |= note->goes_on;
        if (mark == NULL)
            continue;
        found.watch |= strcmp(mark, "watch") == 0;
        if (sheet_level(note) == APERTA_LEVEL_CHANGE && sheet_shape(note) == NULL)
            found.plain = sheet_plain_mark(g_ptr_array_index(note->advice, 0));
        found.lower |= strstr(mark, "↓") != NULL;
        found.between |= strstr(mark, "›") != NULL;
        found.optional |= mark[0] == '(';
        found.doubt |= g_str_has_suffix(mark, "?");
        found.shape |= sheet_shape(note) != NULL;
    }
    return found;
}

char **sheet_legend(const aperta_sheet *sheet)
{
    const signs found = signs_of(sheet);
    g_autofree char *plain = g_strdup_printf("%s: no other shape to sing, see below", found.plain);
    const struct {
        gboolean needed;
        const char *text;
    } rows[] = {
        {TRUE, "Above each syllable its pitch, below it how it is sung (IPA)"},
        {found.shape, "below that the vowel shape to sing, respelled"},
        {found.lower, "↓ with the jaw let down further than in speech"},
        {found.between, "› on the way from one vowel to the other"},
        {found.optional, "in brackets: only if you like"},
        {found.plain != NULL, plain},
        {found.watch, "watch: listen to it, see below"},
        {found.doubt, "? may be heard as another word, see below"},
        {found.melisma, "_ the vowel before goes on"},
    };
    GPtrArray *list = g_ptr_array_new();

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
        if (rows[i].needed && (i > 0 || sheet->score->n_verses > 0))
            g_ptr_array_add(list, g_strdup(rows[i].text));
    g_ptr_array_add(list, NULL);
    return (char **)g_ptr_array_free(list, FALSE);
}

/* ---- around the lines -------------------------------------------------------------------------------------------- */

const aperta_sheet_verse *sheet_verse(const aperta_sheet *sheet, guint index)
{
    return g_ptr_array_index(sheet->verses, index);
}

const aperta_sheet_note *sheet_note_at(const aperta_sheet *sheet, guint index)
{
    return g_ptr_array_index(sheet->notes, index);
}

char *sheet_title(const aperta_sheet *sheet)
{
    const aperta_score *score = sheet->score;

    if (score->title != NULL && *score->title != '\0')
        return words_clean(score->title);
    g_autofree char *base = score->file != NULL ? g_path_get_basename(score->file) : g_strdup("");
    return words_clean(base);
}

char *sheet_authors(const aperta_sheet *sheet)
{
    g_autofree char *words = words_clean(sheet->score->lyricist);
    g_autofree char *music = words_clean(sheet->score->composer);

    if (*words != '\0' && strcmp(words, music) == 0)
        return g_strdup_printf("words and music: %s", words);
    if (*words != '\0' && *music != '\0')
        return g_strdup_printf("words: %s; music: %s", words, music);
    if (*words != '\0' || *music != '\0')
        return g_strdup_printf("%s: %s", *words != '\0' ? "words" : "music", *words != '\0' ? words : music);
    return NULL;
}

static char *part_words(const aperta_sheet *sheet)
{
    const aperta_score *score = sheet->score;

    if (score->n_parts == 0)
        return g_strdup("none");
    const aperta_score_part *part = &score->parts[score->part];
    g_autofree char *name = words_clean(*part->name != '\0' ? part->name : part->id);
    g_autofree char *why = score->part_chosen || score->n_parts == 1
                               ? g_strdup("")
                               : g_strdup_printf(" (of %u, the one with most %s; choose with --part)", score->n_parts,
                                                 part->n_syllables > 0 ? "words" : "notes");
    g_autofree char *size = g_strdup_printf("%u note%s, %u syllable%s", part->n_notes, part->n_notes == 1 ? "" : "s",
                                            part->n_syllables, part->n_syllables == 1 ? "" : "s");
    if (score->format == APERTA_SCORE_TEXT) /* a typed song has no parts */
        return g_steal_pointer(&size);
    return g_strdup_printf("%s%s; %s", name, why, size);
}

static char *range_words(const aperta_sheet *sheet)
{
    char low[APERTA_PITCH_NAME_MAX], high[APERTA_PITCH_NAME_MAX];
    GString *line = g_string_new(NULL);

    aperta_pitch_spell(sheet->lowest, &sheet->score->key, low);
    aperta_pitch_spell(sheet->highest, &sheet->score->key, high);
    g_string_append(line, low);
    if (sheet->highest > sheet->lowest)
        g_string_append_printf(line, " to %s", high);
    if (sheet->octave != 0)
        g_string_append_printf(line, " (%d octave%s %s than written)", abs(sheet->octave),
                               abs(sheet->octave) == 1 ? "" : "s", sheet->octave < 0 ? "lower" : "higher");
    if (sheet->score->key.known)
        g_string_append_printf(line, "; key %s %s", aperta_score_key_tonic(sheet->score),
                               sheet->score->key.minor ? "minor" : "major");
    return g_string_free(line, FALSE);
}

/* "2 semitones lower than written, in F major". */
static char *moved_words(const aperta_sheet *sheet)
{
    int semitones = abs(sheet->transposed);
    g_autofree char *from = sheet->written_tonic == NULL ? g_strdup("")
                                                         : g_strdup_printf(", in %s %s", sheet->written_tonic,
                                                                           sheet->score->key.minor ? "minor" : "major");

    return g_strdup_printf("%d semitone%s %s than written%s", semitones, semitones == 1 ? "" : "s",
                           sheet->transposed < 0 ? "lower" : "higher", from);
}

static char *language_of(const aperta_sheet_verse *verse)
{
    const char *name = verse->language != NULL ? aperta_diction_language_name(verse->language) : NULL;

    switch (verse->from) {
    case APERTA_LANGUAGE_GIVEN:
        return g_strdup(name);
    case APERTA_LANGUAGE_OF_SCORE:
        return g_strdup_printf("%s (the score says so)", name);
    case APERTA_LANGUAGE_GUESSED:
        return g_strdup_printf("%s (guessed from the words; name it with --language if wrong)", name);
    case APERTA_LANGUAGE_UNKNOWN:
        break;
    }
    return g_strdup("not known");
}

/* Once for all verses where they agree. */
static char *language_words(const aperta_sheet *sheet)
{
    g_autofree char *first = language_of(sheet_verse(sheet, 0));
    g_autoptr(GString) line = g_string_new(NULL);
    gboolean same = TRUE;

    for (guint i = 0; i < sheet->verses->len; i++) {
        const aperta_sheet_verse *verse = sheet_verse(sheet, i);
        g_autofree char *own = language_of(verse);
        same = same && strcmp(own, first) == 0;
        g_string_append_printf(line, "%sverse %d: %s", i > 0 ? "; " : "", verse->number, own);
    }
    return same ? g_steal_pointer(&first) : g_strdup(line->str);
}

static void add_fact(GArray *facts, const char *label, char *text)
{
    sheet_fact fact = {label, text};

    g_array_append_val(facts, fact);
}

static void fact_clear(gpointer data)
{
    g_free(((sheet_fact *)data)->text);
}

static const char *table_reason(const aperta_sheet *sheet)
{
    return sheet->voice_guessed ? " (chosen by the guess)" : "";
}

GArray *sheet_facts(const aperta_sheet *sheet)
{
    GArray *facts = g_array_new(FALSE, FALSE, sizeof(sheet_fact));

    g_array_set_clear_func(facts, fact_clear);
    add_fact(facts, sheet->score->format == APERTA_SCORE_TEXT ? "Song" : "Part", part_words(sheet));
    if (sheet->notes->len > 0)
        add_fact(facts, "Range", range_words(sheet));
    if (sheet->transposed != 0)
        add_fact(facts, "Moved", moved_words(sheet));
    if (sheet->score->n_verses > 0)
        add_fact(facts, "Words", language_words(sheet));
    add_fact(facts, "Voice",
             g_strdup_printf("%s%s", aperta_voice_word(sheet->voice),
                             sheet->voice_guessed ? " (guessed; name it with --voice if wrong)" : ""));
    add_fact(facts, "Vowels", g_strconcat(sheet->table->title, table_reason(sheet), NULL));
    add_fact(facts, "Style", words_clean(sheet->rules_title != NULL ? sheet->rules_title : sheet->style));
    return facts;
}

char *sheet_verse_title(const aperta_sheet *sheet, const aperta_sheet_verse *verse)
{
    if (sheet->score->n_verses < 2)
        return g_strdup("");
    return g_strdup_printf("Verse %d", verse->number);
}

/* FALSE for a typed song without bar lines, which is all one bar. */
static gboolean has_bars(const aperta_sheet *sheet)
{
    const aperta_score *score = sheet->score;

    return score->format != APERTA_SCORE_TEXT || strcmp(score->notes[0].bar, score->notes[score->n_notes - 1].bar) != 0;
}

char *sheet_bars(const aperta_sheet *sheet, const aperta_sheet_verse *verse, const aperta_laid_line *line)
{
    guint first = verse->first_note + line->first_note;
    g_autofree char *from = words_clean(sheet_note_at(sheet, first)->score_note->bar);
    g_autofree char *to = words_clean(sheet_note_at(sheet, first + line->n_notes - 1)->score_note->bar);

    if (*from == '\0' || !has_bars(sheet))
        return g_strdup("");
    return strcmp(from, to) == 0 ? g_strdup_printf("bar %s", from) : g_strdup_printf("bars %s–%s", from, to);
}

gboolean sheet_shows_line(const aperta_sheet *sheet, const aperta_sheet_verse *verse, const aperta_laid_line *line)
{
    return line->sung || verse == sheet_verse(sheet, 0);
}
