/* sheet-captions.c - headings of a sheet, and what its pictures say: captions, legends, and the words for those who
 * hear them or hover over them. */
#include "result/query.h"
#include "result/sheet-query.h"
#include "words/sheet-words.h"

const char *words_sheet_heading(words_sheet_part part)
{
    static const char *const headings[] = {
        [WORDS_SHEET_LINES] = "Line by line",
        [WORDS_SHEET_ADVICE] = "What to try",
        [WORDS_SHEET_REASONS] = "Why",
        [WORDS_SHEET_REMARKS] = "Remarks",
        [WORDS_SHEET_CARE] = "Take care",
        [WORDS_SHEET_KEYS] = "Other keys",
        [WORDS_SHEET_VOWELS] = "Vowels of the song",
    };

    return headings[part];
}

char *words_sheet_name(const aperta_sheet *sheet)
{
    g_autofree char *title = words_sheet_title(sheet);

    return g_strdup_printf("Sheet: %s", title);
}

const char *words_sheet_caption(words_sheet_label label)
{
    static const char *const captions[] = {
        [WORDS_ROWS_TITLE] = "Melody and words",
        [WORDS_ROWS_CONTINUED] = "(continued)",
        [WORDS_KEYS_TITLE] = "The song in other keys",
        [WORDS_KEYS_AXIS] = "share of the singing, by length and stress",
        [WORDS_KEYS_CHANGE] = "wants a change",
        [WORDS_KEYS_WATCH] = "worth watching (dashed edge)",
        [WORDS_KEYS_OWN] = "bold: the key of this sheet",
        [WORDS_SONG_TITLE] = "Vowels of the song",
        [WORDS_SONG_DESCRIPTION] = "F2 from right to left, F1 downward: where each vowel of the song is expected, and "
                                   "arrows to the shapes to sing on high notes.",
        [WORDS_SONG_WAY] = "the shape to sing on the pitch beside it; small pitches: where the song sings the vowel",
        [WORDS_SONG_SILENT] = "no advice",
        [WORDS_SONG_FINE] = "fine",
        [WORDS_SONG_WATCH] = "watch",
        [WORDS_SONG_CHANGE] = "change on some pitch",
    };

    return captions[label];
}

/* ---- rows -------------------------------------------------------------------------------------------------------- */

char *words_sheet_hover(const aperta_sheet_note *note)
{
    const char *pitch = note->score_note->name;
    const aperta_finding *finding = note->advice->len > 0 ? g_ptr_array_index(note->advice, 0) : NULL;

    if (finding == NULL)
        return note->word != NULL ? g_strdup_printf("%s, %s", pitch, note->word) : g_strdup(pitch);
    g_autofree char *text = aperta_finding_text(finding);
    if (note->word == NULL)
        return g_strdup_printf("%s: %s", pitch, text);
    return g_strdup_printf("%s, %s: %s", pitch, note->word, text);
}

char *words_sheet_spoken_note(const aperta_sheet_verse *verse, const aperta_sheet_note *note)
{
    const char *pitch = note->score_note->name;
    const result_sheet_mark mark = result_sheet_mark_of(note);
    g_autofree char *sung = note->syllable != NULL ? words_sheet_syllable(verse, note) : g_strdup("held");

    if (mark.kind == RESULT_MARK_NONE)
        return g_strdup_printf("%s %s", sung, pitch);
    if (mark.kind == RESULT_MARK_WORD)
        return g_strdup_printf("%s %s (%s)", sung, pitch, words_sheet_mark_word(&mark));
    g_autofree char *shape = aperta_shape_name(mark.shape);
    return g_strdup_printf("%s %s (%s: %s)", sung, pitch, aperta_level_word(mark.level), shape);
}

char *words_sheet_spoken_line(const char *title, char **notes)
{
    g_autofree char *joined = g_strjoinv(", ", notes);

    return g_strdup_printf("%s: %s.", title, joined);
}

/* ---- keys -------------------------------------------------------------------------------------------------------- */

char *words_sheet_key_figure(const aperta_sheet *sheet, const aperta_sheet_key *key)
{
    g_autofree char *change = words_sheet_share(sheet, key->change_s);

    return g_strdup_printf(key->fits ? "%s" : "%s, beyond range", change);
}

char *words_sheet_key_hover(const aperta_sheet *sheet, const aperta_sheet_key *key)
{
    g_autofree char *name = words_sheet_key_name(sheet, key), *range = words_sheet_key_range(key);
    g_autofree char *change = words_sheet_share(sheet, key->change_s), *watch = words_sheet_share(sheet, key->watch_s);

    return g_strdup_printf(key->fits ? "%s, %s: %s to change, %s to watch"
                                     : "%s, %s: %s to change, %s to watch; beyond the range",
                           name, range, change, watch);
}

/* ---- vowels ------------------------------------------------------------------------------------------------------ */

char *words_sheet_pitches(const aperta_sheet *sheet, const aperta_expectation *expected)
{
    const aperta_score_note *low = NULL, *high = NULL;

    for (guint i = 0; i < sheet->notes->len; i++) {
        const aperta_sheet_note *note = result_sheet_note_at(sheet, i);
        if (note->expected != expected)
            continue;
        low = low == NULL || note->score_note->midi < low->midi ? note->score_note : low;
        high = high == NULL || note->score_note->midi > high->midi ? note->score_note : high;
    }
    if (low == NULL)
        return g_strdup("");
    return low->midi == high->midi ? g_strdup(low->name) : g_strdup_printf("%s–%s", low->name, high->name);
}

char *words_sheet_vowel_hover(const aperta_sheet *sheet, const aperta_expectation *expected)
{
    g_autofree char *vowel = words_vowel_label(expected->vowel, FALSE);
    g_autofree char *pitches = words_sheet_pitches(sheet, expected);

    return g_strdup_printf("%s, sung on %s: F1 expected near %.0f Hz, F2 near %.0f Hz", vowel, pitches,
                           expected->resonances[0].hz, expected->resonances[1].hz);
}

char *words_sheet_way_hover(const aperta_sheet_note *note, const aperta_shape *to)
{
    g_autofree char *vowel = words_vowel_label(note->expected->vowel, FALSE);
    g_autofree char *shape = words_shape_label(to, FALSE);

    return g_strdup_printf("%s on %s: sing %s", vowel, note->score_note->name, shape);
}

char *words_sheet_ellipses(const aperta_sheet *sheet, gboolean spreads_published, gboolean borrows)
{
    const char *table = sheet->settings.table->title;

    if (spreads_published)
        return g_strdup_printf(borrows ? "Ellipses: spoken vowels, mean and one standard deviation between speakers; "
                                         "%s, and other tables for what it lacks."
                                       : "Ellipses: spoken vowels, mean and one standard deviation between speakers; "
                                         "%s.",
                               table);
    return g_strdup_printf(borrows ? "Ellipses: spoken vowels, mean and one standard deviation between speakers (some "
                                     "spreads are ours); %s, and other tables for what it lacks."
                                   : "Ellipses: spoken vowels, mean and one standard deviation between speakers (some "
                                     "spreads are ours); %s.",
                           table);
}
