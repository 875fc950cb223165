/* sheet-facts.c - what stands above the lines of a sheet: the song, its part, range and language, and what it is judged
 * by. */
#include "result/sheet-query.h"
#include "words/sheet-words.h"

#include <stdlib.h>
#include <string.h>

#define NAME_MAX_SHOWN                                                                                                 \
    200 /* characters; a longer one is cut: drawing lays it out anew for every line it breaks into                     \
         */

/* A title, a part, a name, fit to be shown. */
static char *name_shown(const char *text)
{
    g_autofree char *shown = aperta_shown(text);

    if (g_utf8_strlen(shown, -1) <= NAME_MAX_SHOWN)
        return g_steal_pointer(&shown);
    g_autofree char *start = g_utf8_substring(shown, 0, NAME_MAX_SHOWN);
    return g_strdup_printf("%s…", start);
}

char *words_sheet_title(const aperta_sheet *sheet)
{
    const aperta_score *score = sheet->score;
    gboolean has_title = score->title != NULL && *score->title != '\0';
    g_autofree char *base = score->file != NULL ? g_path_get_basename(score->file) : g_strdup("");

    return name_shown(has_title ? score->title : base);
}

char *words_sheet_authors(const aperta_sheet *sheet)
{
    g_autofree char *words = name_shown(sheet->score->lyricist);
    g_autofree char *music = name_shown(sheet->score->composer);

    if (*words != '\0' && strcmp(words, music) == 0)
        return g_strdup_printf("words and music: %s", words);
    if (*words != '\0' && *music != '\0')
        return g_strdup_printf("words: %s; music: %s", words, music);
    if (*words != '\0')
        return g_strdup_printf("words: %s", words);
    if (*music != '\0')
        return g_strdup_printf("music: %s", music);
    return NULL;
}

static char *size_of_part(const aperta_score_part *part)
{
    g_autofree char *notes = g_strdup_printf(part->n_notes == 1 ? "%u note" : "%u notes", part->n_notes);
    g_autofree char *syllables =
        g_strdup_printf(part->n_syllables == 1 ? "%u syllable" : "%u syllables", part->n_syllables);

    return g_strdup_printf("%s, %s", notes, syllables);
}

static char *part_fact(const aperta_sheet *sheet, words_where where)
{
    const aperta_score *score = sheet->score;

    if (score->n_parts == 0)
        return g_strdup("none");
    const aperta_score_part *part = &score->parts[score->part];
    g_autofree char *name = name_shown(*part->name != '\0' ? part->name : part->id);
    g_autofree char *size = size_of_part(part);
    if (score->format == APERTA_SCORE_TEXT) /* a typed song has no parts */
        return g_steal_pointer(&size);
    if (score->part_chosen || score->n_parts == 1)
        return g_strdup_printf("%s; %s", name, size);
    if (where == WORDS_ON_PAPER)
        return g_strdup_printf("%s (of %u parts); %s", name, score->n_parts, size);
    return g_strdup_printf(part->n_syllables > 0 ? "%s (of %u, the one with most words; choose with --part); %s"
                                                 : "%s (of %u, the one with most notes; choose with --part); %s",
                           name, score->n_parts, size);
}

static const char *octaves_format(int octave)
{
    if (octave < 0)
        return octave == -1 ? "%s (%d octave lower than written)" : "%s (%d octaves lower than written)";
    return octave == 1 ? "%s (%d octave higher than written)" : "%s (%d octaves higher than written)";
}

/* "A3 to D5", "A3 to D5 (1 octave lower than written)". */
static char *pitches_of(const aperta_sheet *sheet)
{
    char low[APERTA_PITCH_NAME_MAX], high[APERTA_PITCH_NAME_MAX];

    aperta_pitch_spell(sheet->lowest, &sheet->score->key, low);
    aperta_pitch_spell(sheet->highest, &sheet->score->key, high);
    g_autofree char *pitches = sheet->highest > sheet->lowest ? g_strdup_printf("%s to %s", low, high) : g_strdup(low);
    if (sheet->octave == 0)
        return g_steal_pointer(&pitches);
    return g_strdup_printf(octaves_format(sheet->octave), pitches, abs(sheet->octave));
}

static char *range_fact(const aperta_sheet *sheet)
{
    g_autofree char *pitches = pitches_of(sheet);

    if (!sheet->score->key.known)
        return g_steal_pointer(&pitches);
    return g_strdup_printf(sheet->score->key.minor ? "%s; key %s minor" : "%s; key %s major", pitches,
                           aperta_score_key_tonic(sheet->score));
}

static const char *moved_format(int semitones)
{
    if (semitones < 0)
        return semitones == -1 ? "%d semitone lower than written" : "%d semitones lower than written";
    return semitones == 1 ? "%d semitone higher than written" : "%d semitones higher than written";
}

/* "2 semitones lower than written, in F major". */
static char *moved_fact(const aperta_sheet *sheet)
{
    g_autofree char *moved = g_strdup_printf(moved_format(sheet->transposed), abs(sheet->transposed));

    if (sheet->written_tonic == NULL)
        return g_steal_pointer(&moved);
    return g_strdup_printf(sheet->score->key.minor ? "%s, in %s minor" : "%s, in %s major", moved,
                           sheet->written_tonic);
}

static char *language_of(const aperta_sheet_verse *verse, words_where where)
{
    const char *name = verse->language != NULL ? aperta_diction_language_name(verse->language) : NULL;

    switch (verse->from) {
    case APERTA_LANGUAGE_GIVEN:
        return g_strdup(name);
    case APERTA_LANGUAGE_OF_SCORE:
        return g_strdup_printf("%s (the score says so)", name);
    case APERTA_LANGUAGE_GUESSED:
        return g_strdup_printf(where == WORDS_ON_PAPER
                                   ? "%s (guessed from the words)"
                                   : "%s (guessed from the words; name it with --language if wrong)",
                               name);
    case APERTA_LANGUAGE_UNKNOWN:
        break;
    }
    return g_strdup("not known");
}

static gboolean languages_agree(const aperta_sheet *sheet)
{
    const aperta_sheet_verse *first = result_sheet_verse(sheet, 0);

    for (guint i = 1; i < sheet->verses->len; i++) {
        const aperta_sheet_verse *verse = result_sheet_verse(sheet, i);
        if (verse->from != first->from ||
            (verse->from != APERTA_LANGUAGE_UNKNOWN && g_strcmp0(verse->language, first->language) != 0))
            return FALSE;
    }
    return TRUE;
}

/* Once for all verses where they agree. */
static char *language_fact(const aperta_sheet *sheet, words_where where)
{
    g_autoptr(GPtrArray) languages = g_ptr_array_new_with_free_func(g_free);

    if (languages_agree(sheet))
        return language_of(result_sheet_verse(sheet, 0), where);
    for (guint i = 0; i < sheet->verses->len; i++) {
        const aperta_sheet_verse *verse = result_sheet_verse(sheet, i);
        g_autofree char *language = language_of(verse, where);
        g_ptr_array_add(languages, g_strdup_printf("verse %d: %s", verse->number, language));
    }
    return words_join(languages, "; ", "; ");
}

static const char *voice_format(gboolean guessed, words_where where)
{
    if (!guessed)
        return "%s";
    return where == WORDS_ON_PAPER ? "%s (guessed)" : "%s (guessed; name it with --voice if wrong)";
}

GArray *words_sheet_facts(const aperta_sheet *sheet, words_where where)
{
    GArray *facts = words_facts_new();
    gboolean guessed = sheet->settings.voice_guessed;

    words_facts_add(facts, sheet->score->format == APERTA_SCORE_TEXT ? "Song" : "Part", part_fact(sheet, where));
    if (sheet->notes->len > 0)
        words_facts_add(facts, "Range", range_fact(sheet));
    if (sheet->transposed != 0)
        words_facts_add(facts, "Moved", moved_fact(sheet));
    if (sheet->score->n_verses > 0)
        words_facts_add(facts, "Words", language_fact(sheet, where));
    words_facts_add(facts, "Voice",
                    g_strdup_printf(voice_format(guessed, where), aperta_voice_word(sheet->settings.voice)));
    words_facts_add(facts, "Vowels",
                    g_strdup_printf(guessed ? "%s (chosen by the guess)" : "%s", sheet->settings.table->title));
    words_facts_add(
        facts, "Style",
        aperta_shown(sheet->settings.rules_title != NULL ? sheet->settings.rules_title : sheet->settings.style));
    return facts;
}

char *words_sheet_verse_title(const aperta_sheet *sheet, const aperta_sheet_verse *verse)
{
    if (sheet->score->n_verses < 2)
        return NULL;
    return g_strdup_printf("Verse %d", verse->number);
}

char *words_sheet_bars(const aperta_sheet *sheet, const aperta_sheet_verse *verse, const aperta_laid_line *line)
{
    guint first = verse->first_note + line->first_note;
    g_autofree char *from = aperta_shown(result_sheet_note_at(sheet, first)->score_note->bar);
    g_autofree char *to = aperta_shown(result_sheet_note_at(sheet, first + line->n_notes - 1)->score_note->bar);

    if (*from == '\0' || !result_sheet_has_bars(sheet))
        return NULL;
    return strcmp(from, to) == 0 ? g_strdup_printf("bar %s", from) : g_strdup_printf("bars %s–%s", from, to);
}
