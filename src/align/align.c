/* align.c - syllables of a verse joined to words, and laid under all notes of the score.
 *
 * The engraving says where a word begins and ends (syllabic: single, begin, middle, end); where it contradicts itself,
 * nothing is lost: a middle or end without a beginning begins a word of its own. */
#include "align/align-private.h"
#include "align/align-tuning.h"

#include <string.h>

static void word_clear(gpointer data)
{
    g_free(((aperta_laid_word *)data)->text);
}

static void syllable_clear(gpointer data)
{
    aperta_laid_syllable *syllable = data;

    g_free(syllable->text);
    aperta_syllable_sound_clear(&syllable->sound);
}

static aperta_underlay *underlay_new(int verse, guint n_notes)
{
    aperta_underlay *underlay = g_new0(aperta_underlay, 1);

    underlay->verse = verse;
    underlay->words = g_array_new(FALSE, TRUE, sizeof(aperta_laid_word));
    underlay->syllables = g_array_new(FALSE, TRUE, sizeof(aperta_laid_syllable));
    underlay->notes = g_array_new(FALSE, TRUE, sizeof(aperta_laid_note));
    underlay->lines = g_array_new(FALSE, TRUE, sizeof(aperta_laid_line));
    g_array_set_clear_func(underlay->words, word_clear);
    g_array_set_clear_func(underlay->syllables, syllable_clear);
    g_array_set_size(underlay->notes, n_notes);
    return underlay;
}

void aperta_underlay_free(aperta_underlay *underlay)
{
    if (underlay == NULL)
        return;
    g_array_unref(underlay->words);
    g_array_unref(underlay->syllables);
    g_array_unref(underlay->notes);
    g_array_unref(underlay->lines);
    g_free(underlay);
}

/* ---- syllables and words ----------------------------------------------------------------------------------------- */

/* Adds a syllable on a note, to the word that is open or as a new one. */
static void add_syllable(aperta_underlay *underlay, guint note, const char *text, gboolean joins)
{
    aperta_laid_syllable syllable = {.text = g_strdup(text), .note = note};

    syllable.sound.origin = APERTA_SOUND_NONE;
    if (!joins || underlay->words->len == 0) {
        aperta_laid_word word = {.first = underlay->syllables->len};
        g_array_append_val(underlay->words, word);
    }
    syllable.word = underlay->words->len - 1;
    align_word(underlay, syllable.word)->n_syllables++;
    g_array_append_val(underlay->syllables, syllable);
}

/* Returns whether the word is still open after it. */
static gboolean add_lyric(aperta_underlay *underlay, guint note, const aperta_lyric *lyric, gboolean open)
{
    gboolean joins = open && (lyric->syllabic == APERTA_SYLLABIC_MIDDLE || lyric->syllabic == APERTA_SYLLABIC_END);
    g_auto(GStrv) parts = align_text_parts(lyric->text);

    for (char **part = parts; *part != NULL; part++, joins = FALSE)
        add_syllable(underlay, note, *part, joins);
    return lyric->syllabic == APERTA_SYLLABIC_BEGIN || lyric->syllabic == APERTA_SYLLABIC_MIDDLE;
}

static void add_verse(aperta_underlay *underlay, const aperta_score *score)
{
    gboolean open = FALSE;

    for (guint i = 0; i < score->n_notes; i++) {
        const aperta_score_note *note = &score->notes[i];
        aperta_laid_note *laid = align_note(underlay, i);
        laid->first_begun = underlay->syllables->len;
        for (guint k = 0; k < note->n_lyrics; k++) {
            const aperta_lyric *lyric = &note->lyrics[k];
            if (lyric->verse == underlay->verse)
                open = add_lyric(underlay, i, lyric, open);
        }
        laid->n_begun = underlay->syllables->len - laid->first_begun;
    }
}

static void name_words(aperta_underlay *underlay)
{
    for (guint w = 0; w < underlay->words->len; w++) {
        aperta_laid_word *word = align_word(underlay, w);
        g_autoptr(GString) joined = g_string_new(NULL);
        for (guint s = 0; s < word->n_syllables; s++)
            g_string_append(joined, align_syllable(underlay, word->first + s)->text);
        word->text = align_bare_word(joined->str);
    }
}

/* ---- what each note is sung on ----------------------------------------------------------------------------------- */

/* Notes from i on that carry no syllable of this verse but more syllables of others than a melisma would bridge; at the
 * end of the words, where a verse may just be over, a single one. */
static gboolean is_silent_here(const aperta_underlay *underlay, const aperta_score *score, guint i)
{
    guint n_borrowed = 0;

    for (; i < score->n_notes && align_note(underlay, i)->n_begun == 0; i++)
        n_borrowed += score->notes[i].n_lyrics > 0;
    return n_borrowed > (i < score->n_notes ? ALIGN_BORROWED_MAX : ALIGN_BORROWED_AT_END_MAX);
}

static gboolean is_grace(const aperta_score *score, guint i)
{
    return score->notes[i].length_quarters <= 0.0;
}

static void lay_melismas(aperta_underlay *underlay, const aperta_score *score)
{
    int sung_on = -1;

    for (guint i = 0; i < underlay->notes->len; i++) {
        aperta_laid_note *note = align_note(underlay, i);
        gboolean begins_run = note->n_begun == 0 && (i == 0 || align_note(underlay, i - 1)->n_begun > 0);
        if (note->n_begun > 0) {
            /* a mark without letters, such as a lone dash, goes on with the vowel before it */
            if (sung_on < 0 || align_has_letters(align_syllable(underlay, note->first_begun)->text))
                sung_on = (int)note->first_begun;
        } else if (i == 0 || align_rest_before(score, i) >= ALIGN_REST_QUARTERS ||
                   (begins_run && is_silent_here(underlay, score, i))) {
            sung_on = -1;
        }
        note->sung_on = sung_on;
    }
    for (guint i = underlay->notes->len; i-- > 1;) {
        const aperta_laid_note *next = align_note(underlay, i);
        aperta_laid_note *note = align_note(underlay, i - 1);
        gboolean leads = next->n_begun > 0 || (is_grace(score, i) && next->sung_on >= 0);
        if (note->n_begun == 0 && is_grace(score, i - 1) && leads)
            note->sung_on = next->sung_on;
    }
}

aperta_underlay *aperta_align_verse(const aperta_score *score, int verse)
{
    aperta_underlay *underlay = underlay_new(verse, score->n_notes);

    add_verse(underlay, score);
    name_words(underlay);
    lay_melismas(underlay, score);
    align_lines(underlay, score);
    return underlay;
}

char *aperta_underlay_text(const aperta_underlay *underlay)
{
    GString *text = g_string_new(NULL);

    for (guint w = 0; w < underlay->words->len; w++) {
        const aperta_laid_word *word = align_word(underlay, w);
        g_string_append(text, word->text);
        g_string_append_c(text, word->line_ends ? '\n' : ' ');
    }
    return g_string_free(text, FALSE);
}
