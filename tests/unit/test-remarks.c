/* test-remarks.c - the sentence of each kind of remark, about a score and about a sound. */
#include "expect.h"

#include <aperta/words.h>

/* A text of a record that nobody owns. */
#define S(literal) ((char[]){literal})

/* Expected values are the product's own words: no source. */
static const struct {
    aperta_score_remark remark;
    const char *text;
} of_scores[] = {
    {{.kind = APERTA_SCORE_REMARK_CHORD, .n = 1},
     "The top note of each chord was taken as the one that is sung (1 chord)."},
    {{.kind = APERTA_SCORE_REMARK_CHORD, .n = 2},
     "The top note of each chord was taken as the one that is sung (2 chords)."},
    {{.kind = APERTA_SCORE_REMARK_SIMULTANEOUS, .n = 1},
     "Where notes of one voice begin together, the top one was taken (1 place)."},
    {{.kind = APERTA_SCORE_REMARK_SIMULTANEOUS, .n = 2},
     "Where notes of one voice begin together, the top one was taken (2 places)."},
    {{.kind = APERTA_SCORE_REMARK_CUE, .n = 1}, "Cue notes are left out (1 note)."},
    {{.kind = APERTA_SCORE_REMARK_CUE, .n = 2}, "Cue notes are left out (2 notes)."},
    {{.kind = APERTA_SCORE_REMARK_UNPITCHED, .n = 1},
     "Notes without a pitch (spoken or percussion) are left out (1 note)."},
    {{.kind = APERTA_SCORE_REMARK_UNPITCHED, .n = 2},
     "Notes without a pitch (spoken or percussion) are left out (2 notes)."},
    {{.kind = APERTA_SCORE_REMARK_NO_PITCH, .n = 1}, "Notes without a pitch that can be read are left out (1 note)."},
    {{.kind = APERTA_SCORE_REMARK_NO_PITCH, .n = 2}, "Notes without a pitch that can be read are left out (2 notes)."},
    {{.kind = APERTA_SCORE_REMARK_OUT_OF_RANGE, .n = 1}, "Notes outside C-1 to G9 are left out (1 note)."},
    {{.kind = APERTA_SCORE_REMARK_OUT_OF_RANGE, .n = 2}, "Notes outside C-1 to G9 are left out (2 notes)."},
    {{.kind = APERTA_SCORE_REMARK_QUARTER_TONE, .n = 1}, "Pitches between two semitones are rounded (1 note)."},
    {{.kind = APERTA_SCORE_REMARK_QUARTER_TONE, .n = 2}, "Pitches between two semitones are rounded (2 notes)."},
    {{.kind = APERTA_SCORE_REMARK_NO_DURATION, .n = 1},
     "Notes without a length take that of their note value (1 note)."},
    {{.kind = APERTA_SCORE_REMARK_NO_DURATION, .n = 2},
     "Notes without a length take that of their note value (2 notes)."},
    {{.kind = APERTA_SCORE_REMARK_BAD_DURATION, .n = 1}, "Lengths that make no sense are read as none (1 length)."},
    {{.kind = APERTA_SCORE_REMARK_BAD_DURATION, .n = 2}, "Lengths that make no sense are read as none (2 lengths)."},
    {{.kind = APERTA_SCORE_REMARK_LONG_NOTE, .n = 1}, "Notes longer than 1000 quarters are cut there (1 note)."},
    {{.kind = APERTA_SCORE_REMARK_LONG_NOTE, .n = 2}, "Notes longer than 1000 quarters are cut there (2 notes)."},
    {{.kind = APERTA_SCORE_REMARK_NO_DIVISIONS, .n = 1},
     "Lengths are written before their unit (divisions); note values were read (1 note)."},
    {{.kind = APERTA_SCORE_REMARK_NO_DIVISIONS, .n = 2},
     "Lengths are written before their unit (divisions); note values were read (2 notes)."},
    {{.kind = APERTA_SCORE_REMARK_BAD_DIVISIONS, .n = 1},
     "A unit of lengths (divisions) makes no sense and is passed over (1 place)."},
    {{.kind = APERTA_SCORE_REMARK_BAD_DIVISIONS, .n = 2},
     "A unit of lengths (divisions) makes no sense and is passed over (2 places)."},
    {{.kind = APERTA_SCORE_REMARK_BACK_TOO_FAR, .n = 1},
     "Steps back to before the bar end at its beginning (1 place)."},
    {{.kind = APERTA_SCORE_REMARK_BACK_TOO_FAR, .n = 2},
     "Steps back to before the bar end at its beginning (2 places)."},
    {{.kind = APERTA_SCORE_REMARK_HUMMED, .n = 1}, "Notes marked as hummed or laughed carry no syllable (1 note)."},
    {{.kind = APERTA_SCORE_REMARK_HUMMED, .n = 2}, "Notes marked as hummed or laughed carry no syllable (2 notes)."},
    {{.kind = APERTA_SCORE_REMARK_ONLY_HYPHEN, .n = 1},
     "Lyrics of hyphens or lines only are read as a syllable that goes on (1 place)."},
    {{.kind = APERTA_SCORE_REMARK_ONLY_HYPHEN, .n = 2},
     "Lyrics of hyphens or lines only are read as a syllable that goes on (2 places)."},
    {{.kind = APERTA_SCORE_REMARK_OWN_MARKS, .n = 1},
     "Marks of an earlier run of aperta are not read as words (1 mark)."},
    {{.kind = APERTA_SCORE_REMARK_OWN_MARKS, .n = 2},
     "Marks of an earlier run of aperta are not read as words (2 marks)."},
    {{.kind = APERTA_SCORE_REMARK_TOO_LONG, .n = 1}, "Lyrics much too long for a note are cut (1 place)."},
    {{.kind = APERTA_SCORE_REMARK_TOO_LONG, .n = 2}, "Lyrics much too long for a note are cut (2 places)."},
    {{.kind = APERTA_SCORE_REMARK_STRANGE_LETTER, .n = 1},
     "Letters named by an entity that the file does not know are shown as \uFFFD (1 letter)."},
    {{.kind = APERTA_SCORE_REMARK_STRANGE_LETTER, .n = 2},
     "Letters named by an entity that the file does not know are shown as \uFFFD (2 letters)."},
    {{.kind = APERTA_SCORE_REMARK_TOO_MANY_LINES, .n = 1},
     "More lines of lyrics than can be told apart; the rest count as one (1 lyric)."},
    {{.kind = APERTA_SCORE_REMARK_TOO_MANY_LINES, .n = 2},
     "More lines of lyrics than can be told apart; the rest count as one (2 lyrics)."},
    {{.kind = APERTA_SCORE_REMARK_TOO_MANY_VOICES, .n = 1},
     "More voices than can be told apart; the rest count as the first (1 note)."},
    {{.kind = APERTA_SCORE_REMARK_TOO_MANY_VOICES, .n = 2},
     "More voices than can be told apart; the rest count as the first (2 notes)."},
    {{.kind = APERTA_SCORE_REMARK_REPEAT, .n = 1}, "Repeats and endings are read once, as written (1 sign)."},
    {{.kind = APERTA_SCORE_REMARK_REPEAT, .n = 2}, "Repeats and endings are read once, as written (2 signs)."},
    {{.kind = APERTA_SCORE_REMARK_JUMP, .n = 1},
     "Jumps (da capo, dal segno, coda) are read over, as written (1 sign)."},
    {{.kind = APERTA_SCORE_REMARK_JUMP, .n = 2},
     "Jumps (da capo, dal segno, coda) are read over, as written (2 signs)."},
    {{.kind = APERTA_SCORE_REMARK_MODE, .n = 1},
     "Church modes are named by the major or minor key of their signature (1 signature)."},
    {{.kind = APERTA_SCORE_REMARK_MODE, .n = 2},
     "Church modes are named by the major or minor key of their signature (2 signatures)."},
    {{.kind = APERTA_SCORE_REMARK_KEY, .n = 1}, "Unusual key signatures are read over (1 signature)."},
    {{.kind = APERTA_SCORE_REMARK_KEY, .n = 2}, "Unusual key signatures are read over (2 signatures)."},
    {{.kind = APERTA_SCORE_REMARK_UNENDED, .n = 1}, "Notes that nothing ends last to the end of their track (1 note)."},
    {{.kind = APERTA_SCORE_REMARK_UNENDED, .n = 2},
     "Notes that nothing ends last to the end of their track (2 notes)."},
    {{.kind = APERTA_SCORE_REMARK_VERSE_NUMBERED, .text = S("chorus"), .verse = 3},
     "The lyric line \"chorus\" is read as verse 3."},
    {{.kind = APERTA_SCORE_REMARK_LEFT_OUT, .syllables = (char *[]){S("oh"), NULL}},
     "Syllables stand where nothing is sung (rests, cue or spoken notes) and are left out (1 syllable: \"oh\")."},
    {{.kind = APERTA_SCORE_REMARK_LEFT_OUT, .syllables = (char *[]){S("oh"), S("ho"), NULL}},
     "Syllables stand where nothing is sung (rests, cue or spoken notes) and are left out (2 syllables: \"oh\", "
     "\"ho\")."},
    {{.kind = APERTA_SCORE_REMARK_LEFT_OUT,
      .syllables = (char *[]){S("a"), S("b"), S("c"), S("d"), S("e"), S("f"), S("g"), S("h"), S("i"), S("j"), S("k"),
                              S("l"), S("m"), S("n"), S("o"), S("p"), S("q"), NULL}},
     "Syllables stand where nothing is sung (rests, cue or spoken notes) and are left out (17 syllables: \"a\", \"b\", "
     "\"c\", \"d\", \"e\", "
     "\"f\", \"g\", \"h\", \"i\", \"j\", \"k\", \"l\", \"m\", \"n\", \"o\", \"p\" ...)."},
    {{.kind = APERTA_SCORE_REMARK_TEXTS_LEFT_OUT, .n = 5, .text = S("la")},
     "Texts that do not fit the notes of any track are left out (5: \"la\"...)."},
    {{.kind = APERTA_SCORE_REMARK_NO_WORDS}, "There are no words under the notes."},
    {{.kind = APERTA_SCORE_REMARK_NO_WORDS_HERE}, "This part has no words; other parts have some."},
    {{.kind = APERTA_SCORE_REMARK_VOICE_GOES_ON, .n = 1, .voice = S("2"), .main_voice = S("1")},
     "Voice 2 goes on where voice 1 is silent (1 note)."},
    {{.kind = APERTA_SCORE_REMARK_VOICE_GOES_ON, .n = 2, .voice = S("2"), .main_voice = S("1")},
     "Voice 2 goes on where voice 1 is silent (2 notes)."},
    {{.kind = APERTA_SCORE_REMARK_VOICE_LENDS, .n = 1, .voice = S("2"), .main_voice = S("1")},
     "Words of voice 2 are read under the notes of voice 1 (1 syllable)."},
    {{.kind = APERTA_SCORE_REMARK_VOICE_LENDS, .n = 2, .voice = S("2"), .main_voice = S("1")},
     "Words of voice 2 are read under the notes of voice 1 (2 syllables)."},
    {{.kind = APERTA_SCORE_REMARK_VOICE_LEFT_OUT,
      .part_id = S("P1"),
      .voice = S("2"),
      .syllables = (char *[]){S("low"), NULL}},
     "Voice 2 has words of its own that are not read (1 syllable: \"low\"; part \"P1/2\" is that voice)."},
    {{.kind = APERTA_SCORE_REMARK_VOICE_LEFT_OUT,
      .part_id = S("P1"),
      .voice = S("2"),
      .syllables = (char *[]){S("be"), S("low"), NULL}},
     "Voice 2 has words of its own that are not read (2 syllables: \"be\", \"low\"; part \"P1/2\" is that voice)."},
    {{.kind = APERTA_SCORE_REMARK_MAIN_VOICE, .n = 2, .main_voice = S("1"), .most_words = TRUE},
     "The part has 2 voices; voice 1 was read, which has most words."},
    {{.kind = APERTA_SCORE_REMARK_MAIN_VOICE, .n = 3, .main_voice = S("1")},
     "The part has 3 voices; voice 1 was read, which has most notes."},
    {{.kind = APERTA_SCORE_REMARK_PART, .n = 2, .part_id = S("P1"), .part_name = S("Voice"), .most_words = TRUE},
     "Of 2 parts, P1 \"Voice\" was read, which has most words."},
    {{.kind = APERTA_SCORE_REMARK_PART, .n = 3, .part_id = S("P1"), .part_name = S("")},
     "Of 3 parts, P1 \"\" was read, which has most notes."},
    {{.kind = APERTA_SCORE_REMARK_PERCUSSION}, "The part is written for percussion."},
    {{.kind = APERTA_SCORE_REMARK_NO_TEMPO}, "No tempo is written; 120 quarters a minute are taken."},
    {{.kind = APERTA_SCORE_REMARK_FILM_FRAMES}, "The file counts film frames, not beats: bars and beats mean nothing."},
    {{.kind = APERTA_SCORE_REMARK_WORDS_JAPANESE}, "The words are no UTF-8 and were read as Japanese (Shift-JIS)."},
    {{.kind = APERTA_SCORE_REMARK_WORDS_WESTERN},
     "The words are no UTF-8 and were read as Western European (Windows-1252)."},
    {{.kind = APERTA_SCORE_REMARK_TEXT_WESTERN},
     "The text is no UTF-8 and was read as Western European (Windows-1252)."},
};

static void test_remarks_on_scores(void **state)
{
    gboolean told[APERTA_SCORE_N_REMARKS] = {FALSE};

    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(of_scores); i++) {
        g_autofree char *text = aperta_score_remark_text(&of_scores[i].remark);
        assert_string_equal(text, of_scores[i].text);
        told[of_scores[i].remark.kind] = TRUE;
    }
    for (gsize kind = 0; kind < APERTA_SCORE_N_REMARKS; kind++)
        assert_true(told[kind]);
}

static const struct {
    aperta_sound_remark remark;
    const char *text;
} of_sounds[] = {
    {{APERTA_SOUND_REMARK_NONE, NULL}, NULL},
    {{APERTA_SOUND_REMARK_LISTED, S("two readings")}, "two readings"},
    {{APERTA_SOUND_REMARK_NOT_LATIN, NULL}, "not written in Latin letters"},
    {{APERTA_SOUND_REMARK_NO_LETTER, NULL}, "written without a vowel"},
    {{APERTA_SOUND_REMARK_TOO_LONG, NULL}, "too long for a word"},
    {{APERTA_SOUND_REMARK_NO_VOWEL, NULL}, "no vowel of the word falls here"},
    {{APERTA_SOUND_REMARK_MORE_VOWELS, S("e a")}, "the note also carries e a"},
    {{APERTA_SOUND_REMARK_LIAISON, S("les")}, "liaison with “les”"},
    {{APERTA_SOUND_REMARK_SYLLABIC, NULL}, "spoken without a vowel"},
    {{APERTA_SOUND_REMARK_GLIDE, NULL}, "a glide in speech, sung on a note of its own"},
};

static void test_remarks_on_sounds(void **state)
{
    gboolean told[APERTA_SOUND_N_REMARKS] = {FALSE};

    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(of_sounds); i++) {
        g_autofree char *text = aperta_sound_remark_text(&of_sounds[i].remark);
        assert_int_equal(text == NULL, of_sounds[i].text == NULL);
        if (text != NULL)
            assert_string_equal(text, of_sounds[i].text);
        told[of_sounds[i].remark.kind] = TRUE;
    }
    for (gsize kind = 0; kind < APERTA_SOUND_N_REMARKS; kind++)
        assert_true(told[kind]);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_remarks_on_scores),
        cmocka_unit_test(test_remarks_on_sounds),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
