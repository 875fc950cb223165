/* score-remarks.c - what the reader of a score chose, left out or took for granted. */
#include "words/words.h"

/* So many syllables that are left out are quoted: two lines of print; the JSON has them all. */
#define QUOTED_MAX 16u

/* ---- what is counted --------------------------------------------------------------------------------------------- */

typedef struct {
    const char *one, *more; /* formats of a guint */
} counted_sentences;

static const counted_sentences counted[APERTA_SCORE_N_REMARKS] = {
    [APERTA_SCORE_REMARK_CHORD] = {"The top note of each chord was taken as the one that is sung (%u chord).",
                                   "The top note of each chord was taken as the one that is sung (%u chords)."},
    [APERTA_SCORE_REMARK_SIMULTANEOUS] =
        {"Where notes of one voice begin together, the top one was taken (%u place).",
         "Where notes of one voice begin together, the top one was taken (%u places)."},
    [APERTA_SCORE_REMARK_CUE] = {"Cue notes are left out (%u note).", "Cue notes are left out (%u notes)."},
    [APERTA_SCORE_REMARK_UNPITCHED] = {"Notes without a pitch (spoken or percussion) are left out (%u note).",
                                       "Notes without a pitch (spoken or percussion) are left out (%u notes)."},
    [APERTA_SCORE_REMARK_NO_PITCH] = {"Notes without a pitch that can be read are left out (%u note).",
                                      "Notes without a pitch that can be read are left out (%u notes)."},
    [APERTA_SCORE_REMARK_OUT_OF_RANGE] = {"Notes outside C-1 to G9 are left out (%u note).",
                                          "Notes outside C-1 to G9 are left out (%u notes)."},
    [APERTA_SCORE_REMARK_QUARTER_TONE] = {"Pitches between two semitones are rounded (%u note).",
                                          "Pitches between two semitones are rounded (%u notes)."},
    [APERTA_SCORE_REMARK_NO_DURATION] = {"Notes without a length take that of their note value (%u note).",
                                         "Notes without a length take that of their note value (%u notes)."},
    [APERTA_SCORE_REMARK_BAD_DURATION] = {"Lengths that make no sense are read as none (%u length).",
                                          "Lengths that make no sense are read as none (%u lengths)."},
    [APERTA_SCORE_REMARK_LONG_NOTE] = {"Notes longer than 1000 quarters are cut there (%u note).",
                                       "Notes longer than 1000 quarters are cut there (%u notes)."},
    [APERTA_SCORE_REMARK_NO_DIVISIONS] =
        {"Lengths are written before their unit (divisions); note values were read (%u note).",
         "Lengths are written before their unit (divisions); note values were read (%u notes)."},
    [APERTA_SCORE_REMARK_BAD_DIVISIONS] =
        {"A unit of lengths (divisions) makes no sense and is passed over (%u place).",
         "A unit of lengths (divisions) makes no sense and is passed over (%u places)."},
    [APERTA_SCORE_REMARK_BACK_TOO_FAR] = {"Steps back to before the bar end at its beginning (%u place).",
                                          "Steps back to before the bar end at its beginning (%u places)."},
    [APERTA_SCORE_REMARK_HUMMED] = {"Notes marked as hummed or laughed carry no syllable (%u note).",
                                    "Notes marked as hummed or laughed carry no syllable (%u notes)."},
    [APERTA_SCORE_REMARK_ONLY_HYPHEN] =
        {"Lyrics of hyphens or lines only are read as a syllable that goes on (%u place).",
         "Lyrics of hyphens or lines only are read as a syllable that goes on (%u places)."},
    [APERTA_SCORE_REMARK_OWN_MARKS] = {"Marks of an earlier run of aperta are not read as words (%u mark).",
                                       "Marks of an earlier run of aperta are not read as words (%u marks)."},
    [APERTA_SCORE_REMARK_TOO_LONG] = {"Lyrics much too long for a note are cut (%u place).",
                                      "Lyrics much too long for a note are cut (%u places)."},
    [APERTA_SCORE_REMARK_STRANGE_LETTER] =
        {"Letters named by an entity that the file does not know are shown as \uFFFD (%u letter).",
         "Letters named by an entity that the file does not know are shown as \uFFFD (%u letters)."},
    [APERTA_SCORE_REMARK_TOO_MANY_LINES] =
        {"More lines of lyrics than can be told apart; the rest count as one (%u lyric).",
         "More lines of lyrics than can be told apart; the rest count as one (%u lyrics)."},
    [APERTA_SCORE_REMARK_TOO_MANY_VOICES] =
        {"More voices than can be told apart; the rest count as the first (%u note).",
         "More voices than can be told apart; the rest count as the first (%u notes)."},
    [APERTA_SCORE_REMARK_REPEAT] = {"Repeats and endings are read once, as written (%u sign).",
                                    "Repeats and endings are read once, as written (%u signs)."},
    [APERTA_SCORE_REMARK_JUMP] = {"Jumps (da capo, dal segno, coda) are read over, as written (%u sign).",
                                  "Jumps (da capo, dal segno, coda) are read over, as written (%u signs)."},
    [APERTA_SCORE_REMARK_MODE] =
        {"Church modes are named by the major or minor key of their signature (%u signature).",
         "Church modes are named by the major or minor key of their signature (%u signatures)."},
    [APERTA_SCORE_REMARK_KEY] = {"Unusual key signatures are read over (%u signature).",
                                 "Unusual key signatures are read over (%u signatures)."},
    [APERTA_SCORE_REMARK_UNENDED] = {"Notes that nothing ends last to the end of their track (%u note).",
                                     "Notes that nothing ends last to the end of their track (%u notes)."},
};

static char *counted_sentence(const aperta_score_remark *remark)
{
    const counted_sentences *sentences = &counted[remark->kind];

    return g_strdup_printf(remark->n == 1 ? sentences->one : sentences->more, remark->n);
}

/* ---- what is named ----------------------------------------------------------------------------------------------- */

/* "a", "b", "c" with their marks of quotation, or the first of many. */
static char *quoted_list(char **texts)
{
    GString *list = g_string_new(NULL);

    for (guint i = 0; i < QUOTED_MAX && texts[i] != NULL; i++)
        g_string_append_printf(list, i > 0 ? ", \"%s\"" : "\"%s\"", texts[i]);
    if (g_strv_length(texts) > QUOTED_MAX)
        g_string_append(list, " ...");
    return g_string_free(list, FALSE);
}

static char *left_out_sentence(const aperta_score_remark *remark)
{
    g_autofree char *quoted = quoted_list(remark->syllables);
    guint n = g_strv_length(remark->syllables);

    return g_strdup_printf(n == 1 ? "Syllables stand where nothing is sung (rests, cue or spoken notes) and are left "
                                    "out (%u syllable: %s)."
                                  : "Syllables stand where nothing is sung (rests, cue or spoken notes) and are left "
                                    "out (%u syllables: %s).",
                           n, quoted);
}

static char *voice_left_out_sentence(const aperta_score_remark *remark)
{
    g_autofree char *quoted = quoted_list(remark->syllables);
    guint n = g_strv_length(remark->syllables);

    return g_strdup_printf(n == 1 ? "Voice %s has words of its own that are not read (%u syllable: %s; part \"%s/%s\" "
                                    "is that voice)."
                                  : "Voice %s has words of its own that are not read (%u syllables: %s; part \"%s/%s\" "
                                    "is that voice).",
                           remark->voice, n, quoted, remark->part_id, remark->voice);
}

static char *voice_sentence(const aperta_score_remark *remark)
{
    const char *format = remark->n == 1 ? "Voice %s goes on where voice %s is silent (%u note)."
                                        : "Voice %s goes on where voice %s is silent (%u notes).";

    if (remark->kind == APERTA_SCORE_REMARK_VOICE_LENDS)
        format = remark->n == 1 ? "Words of voice %s are read under the notes of voice %s (%u syllable)."
                                : "Words of voice %s are read under the notes of voice %s (%u syllables).";
    return g_strdup_printf(format, remark->voice, remark->main_voice, remark->n);
}

static char *main_voice_sentence(const aperta_score_remark *remark)
{
    return g_strdup_printf(remark->most_words ? "The part has %u voices; voice %s was read, which has most words."
                                              : "The part has %u voices; voice %s was read, which has most notes.",
                           remark->n, remark->main_voice);
}

static char *part_sentence(const aperta_score_remark *remark)
{
    return g_strdup_printf(remark->most_words ? "Of %u parts, %s \"%s\" was read, which has most words."
                                              : "Of %u parts, %s \"%s\" was read, which has most notes.",
                           remark->n, remark->part_id, remark->part_name);
}

/* ---- what is told without a name --------------------------------------------------------------------------------- */

/* NULL: of another kind. */
static const char *plain_sentence(aperta_score_remark_kind kind)
{
    switch (kind) {
    case APERTA_SCORE_REMARK_NO_WORDS:
        return "There are no words under the notes.";
    case APERTA_SCORE_REMARK_NO_WORDS_HERE:
        return "This part has no words; other parts have some.";
    case APERTA_SCORE_REMARK_PERCUSSION:
        return "The part is written for percussion.";
    case APERTA_SCORE_REMARK_NO_TEMPO:
        return "No tempo is written; 120 quarters a minute are taken.";
    case APERTA_SCORE_REMARK_FILM_FRAMES:
        return "The file counts film frames, not beats: bars and beats mean nothing.";
    case APERTA_SCORE_REMARK_WORDS_JAPANESE:
        return "The words are no UTF-8 and were read as Japanese (Shift-JIS).";
    case APERTA_SCORE_REMARK_WORDS_WESTERN:
        return "The words are no UTF-8 and were read as Western European (Windows-1252).";
    case APERTA_SCORE_REMARK_TEXT_WESTERN:
        return "The text is no UTF-8 and was read as Western European (Windows-1252).";
    default:
        return NULL;
    }
}

char *aperta_score_remark_text(const aperta_score_remark *remark)
{
    switch (remark->kind) {
    case APERTA_SCORE_REMARK_VERSE_NUMBERED:
        return g_strdup_printf("The lyric line \"%s\" is read as verse %d.", remark->text, remark->verse);
    case APERTA_SCORE_REMARK_LEFT_OUT:
        return left_out_sentence(remark);
    case APERTA_SCORE_REMARK_TEXTS_LEFT_OUT:
        return g_strdup_printf("Texts that do not fit the notes of any track are left out (%u: \"%s\"...).", remark->n,
                               remark->text);
    case APERTA_SCORE_REMARK_VOICE_GOES_ON:
    case APERTA_SCORE_REMARK_VOICE_LENDS:
        return voice_sentence(remark);
    case APERTA_SCORE_REMARK_VOICE_LEFT_OUT:
        return voice_left_out_sentence(remark);
    case APERTA_SCORE_REMARK_MAIN_VOICE:
        return main_voice_sentence(remark);
    case APERTA_SCORE_REMARK_PART:
        return part_sentence(remark);
    default:
        return counted[remark->kind].one != NULL ? counted_sentence(remark) : g_strdup(plain_sentence(remark->kind));
    }
}
