/* align.c - syllables of a verse joined to words, and laid under all notes of the score.
 *
 * The engraving says where a word begins and ends (syllabic: single, begin, middle, end); where it contradicts itself,
 * nothing is lost: a middle or end without a beginning begins a word of its own. */
#include "align/align-private.h"
#include "align/align-tuning.h"

#include <string.h>

void aperta_underlay_free(aperta_underlay *underlay)
{
    if (underlay == NULL)
        return;
    for (guint w = 0; w < underlay->n_words; w++)
        g_free(underlay->words[w].text);
    for (guint s = 0; s < underlay->n_syllables; s++)
        aperta_syllable_sound_clear(&underlay->sounds[s]);
    g_free(underlay->words);
    g_free(underlay->spoken);
    g_free(underlay->syllables);
    g_strfreev(underlay->texts);
    g_free(underlay->sounds);
    g_free(underlay->notes);
    g_free(underlay->lines);
    g_free(underlay);
}

/* ---- syllables and words ----------------------------------------------------------------------------------------- */

/* What is read so far. */
typedef struct {
    GPtrArray *texts;  /* char * */
    GArray *syllables; /* aperta_laid_syllable */
    GArray *words;     /* aperta_laid_word, without their texts */
    gboolean open;     /* the last word goes on */
} reading;

/* The syllables of one lyric; the first may join the word that is open. */
static void add_lyric(reading *r, guint note, const aperta_lyric *lyric)
{
    gboolean joins = r->open && (lyric->syllabic == APERTA_SYLLABIC_MIDDLE || lyric->syllabic == APERTA_SYLLABIC_END);

    align_text_parts(lyric->text, r->texts);
    for (guint s = r->syllables->len; s < r->texts->len; s++, joins = FALSE) {
        if (!joins) {
            aperta_laid_word word = {.first = s};
            g_array_append_val(r->words, word);
        }
        aperta_laid_syllable syllable = {note, r->words->len - 1};
        g_array_append_val(r->syllables, syllable);
    }
    r->open = lyric->syllabic == APERTA_SYLLABIC_BEGIN || lyric->syllabic == APERTA_SYLLABIC_MIDDLE;
}

static void read_verse(reading *r, aperta_underlay *underlay, const aperta_score *score)
{
    for (guint i = 0; i < score->n_notes; i++) {
        const aperta_score_note *note = &score->notes[i];
        aperta_laid_note *laid = &underlay->notes[i];
        laid->first_begun = r->texts->len;
        for (guint k = 0; k < note->n_lyrics; k++)
            if (note->lyrics[k].verse == underlay->verse)
                add_lyric(r, i, &note->lyrics[k]);
        laid->n_begun = r->texts->len - laid->first_begun;
    }
}

static void name_words(aperta_underlay *underlay)
{
    for (guint w = 0; w < underlay->n_words; w++) {
        const aperta_diction_word *spoken = &underlay->spoken[w];
        g_autoptr(GString) joined = g_string_new(NULL);
        for (guint s = 0; s < spoken->n_syllables; s++)
            g_string_append(joined, spoken->syllables[s]);
        underlay->words[w].text = align_bare_word(joined->str);
    }
}

static void lay_words(aperta_underlay *underlay, const aperta_score *score)
{
    reading r = {g_ptr_array_new(), g_array_new(FALSE, FALSE, sizeof(aperta_laid_syllable)),
                 g_array_new(FALSE, FALSE, sizeof(aperta_laid_word)), FALSE};

    read_verse(&r, underlay, score);
    underlay->n_words = r.words->len;
    underlay->words = (aperta_laid_word *)(void *)g_array_free(r.words, FALSE);
    underlay->n_syllables = r.syllables->len;
    underlay->syllables = (aperta_laid_syllable *)(void *)g_array_free(r.syllables, FALSE);
    g_ptr_array_add(r.texts, NULL);
    underlay->texts = (char **)g_ptr_array_free(r.texts, FALSE);
    underlay->sounds = g_new0(aperta_syllable_sound, underlay->n_syllables);
    for (guint s = 0; s < underlay->n_syllables; s++)
        underlay->sounds[s].origin = APERTA_SOUND_NONE;
    underlay->spoken = g_new0(aperta_diction_word, underlay->n_words);
    for (guint s = 0; s < underlay->n_syllables; s++)
        underlay->spoken[underlay->syllables[s].word].n_syllables++;
    for (guint w = 0; w < underlay->n_words; w++)
        underlay->spoken[w].syllables = (const char *const *)&underlay->texts[underlay->words[w].first];
    name_words(underlay);
}

/* ---- what each note is sung on ----------------------------------------------------------------------------------- */

/* Notes from i on that carry no syllable of this verse but more syllables of others than a melisma would bridge; at the
 * end of the words, where a verse may just be over, a single one. */
static gboolean is_silent_here(const aperta_underlay *underlay, const aperta_score *score, guint i)
{
    guint n_borrowed = 0;

    for (; i < score->n_notes && underlay->notes[i].n_begun == 0; i++)
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

    for (guint i = 0; i < underlay->n_notes; i++) {
        aperta_laid_note *note = &underlay->notes[i];
        gboolean begins_run = note->n_begun == 0 && (i == 0 || underlay->notes[i - 1].n_begun > 0);
        if (note->n_begun > 0) {
            /* a mark without letters, such as a lone dash, goes on with the vowel before it */
            if (sung_on < 0 || align_has_letters(underlay->texts[note->first_begun]))
                sung_on = (int)note->first_begun;
        } else if (i == 0 || align_rest_before(score, i) >= ALIGN_REST_QUARTERS ||
                   (begins_run && is_silent_here(underlay, score, i))) {
            sung_on = -1;
        }
        note->sung_on = sung_on;
    }
    for (guint i = underlay->n_notes; i-- > 1;) {
        const aperta_laid_note *next = &underlay->notes[i];
        aperta_laid_note *note = &underlay->notes[i - 1];
        gboolean leads = next->n_begun > 0 || (is_grace(score, i) && next->sung_on >= 0);
        if (note->n_begun == 0 && is_grace(score, i - 1) && leads)
            note->sung_on = next->sung_on;
    }
}

aperta_underlay *aperta_align_verse(const aperta_score *score, int verse)
{
    aperta_underlay *underlay = g_new0(aperta_underlay, 1);

    underlay->verse = verse;
    underlay->n_notes = score->n_notes;
    underlay->notes = g_new0(aperta_laid_note, score->n_notes);
    lay_words(underlay, score);
    lay_melismas(underlay, score);
    align_lines(underlay, score);
    return underlay;
}

char *aperta_underlay_text(const aperta_underlay *underlay)
{
    GString *text = g_string_new(NULL);

    for (guint w = 0; w < underlay->n_words; w++) {
        g_string_append(text, underlay->words[w].text);
        g_string_append_c(text, underlay->spoken[w].line_ends ? '\n' : ' ');
    }
    return g_string_free(text, FALSE);
}
