/* test-align.c - words under notes. What is expected follows from the meaning of syllabic, extender and rest in
 * MusicXML (W3C documentation of <lyric>), and from the rules of align.h; all scores are made up. */
#include "expect.h"
#include "sheet-fixture.h"

#include "align/align-private.h"

#include <string.h>

static char *words_of(const aperta_underlay *underlay)
{
    GString *text = g_string_new(NULL);

    for (guint i = 0; i < underlay->n_words; i++) {
        const aperta_diction_word *spoken = &underlay->spoken[i];
        g_string_append_printf(text, "%s%s/%u%s", i > 0 ? " " : "", underlay->words[i].text, spoken->n_syllables,
                               spoken->line_ends ? "." : "");
    }
    return g_string_free(text, FALSE);
}

/* The syllable each note is sung on: "see see ~ you" with ~ for none. */
static char *sung_of(const aperta_underlay *underlay)
{
    GString *text = g_string_new(NULL);

    for (guint i = 0; i < underlay->n_notes; i++) {
        int on = underlay->notes[i].sung_on;
        g_string_append_printf(text, "%s%s", i > 0 ? " " : "", on < 0 ? "~" : underlay->texts[on]);
    }
    return g_string_free(text, FALSE);
}

static void expect_words(const char *notes, int verse, const char *words, const char *sung)
{
    g_autoptr(aperta_score) score = fixture_score(notes);
    g_autoptr(aperta_underlay) underlay = aperta_align_verse(score, verse);
    g_autofree char *found = words_of(underlay);
    g_autofree char *laid = sung_of(underlay);

    assert_string_equal(found, words);
    assert_string_equal(laid, sung);
}

static void test_words(void **state)
{
    (void)state;
    expect_words("C4:1:wa- D4:1:-ter E4:1:low", 1, "water/2 low/1.", "wa ter low");
    /* punctuation sticks to syllables and is no part of the word */
    expect_words("C4:1:“I D4:1:see,” E4:1:she", 1, "I/1 see/1. she/1.", "“I see,” she");
    expect_words("C4:1:'twas D4:1:an'", 1, "'twas/1 an'/1.", "'twas an'");
    /* the number of the verse in front of its first word */
    expect_words("C4:1:1.Si D4:1:2)x", 1, "Si/1 x/1.", "Si x");
    expect_words("C4:1:(1)Si D4:1:1.–3.x E4:1:1/2.20 F4:1:7", 1, "Si/1 x/1 20/1 7/1.", "Si x 20 7");
    /* an end or a middle without a beginning is lost neither */
    expect_words("C4:1:-ter D4:1:-mid- E4:1:a", 1, "ter/1 mid/1 a/1.", "ter mid a");
    expect_words("C4:1:be- D4:1:new", 1, "be/1 new/1.", "be new");
}

static void test_melismas(void **state)
{
    (void)state;
    expect_words("C4:1:see D4:1 E4:1 F4:1:you", 1, "see/1 you/1.", "see see see you");
    /* a rest ends it; a breath does not */
    expect_words("C4:1:see r:1 E4:1 F4:1:you", 1, "see/1. you/1.", "see ~ you");
    expect_words("C4:1:see r:0.125 E4:1 F4:1:you", 1, "see/1 you/1.", "see see you");
    /* a grace note leads to the syllable behind it, or belongs to the one before */
    expect_words("C4:1:see D4:0 E4:1:you", 1, "see/1 you/1.", "see you you");
    expect_words("C4:1:see D4:0 E4:1 F4:1:you", 1, "see/1 you/1.", "see see see you");
    /* a lone dash goes on with the vowel before it */
    expect_words("C4:1:see D4:1:— E4:1:you", 1, "see/1 —/1. you/1.", "see see you");
    expect_words("C4:1 D4:1:see", 1, "see/1.", "~ see");
}

static void test_verses(void **state)
{
    (void)state;
    /* two syllables of one verse are a melisma of the other */
    expect_words("C4:1:one:Sun D4:1:two E4:1:three:moon", 2, "Sun/1 moon/1.", "Sun Sun moon");
    /* but where the other verse goes on alone, this one is silent */
    expect_words("C4:1:a:Sun D4:1:b E4:1:c F4:1:d G4:1:e A4:1:f", 2, "Sun/1.", "Sun ~ ~ ~ ~ ~");
    expect_words("C4:1 D4:1", 0, "", "~ ~");
}

static void test_elision(void **state)
{
    g_autoptr(aperta_score) score = fixture_score("C4:1:mi- D4:1:-a+a- E4:1:-mo F4:1:te‿a");
    g_autoptr(aperta_underlay) underlay = aperta_align_verse(score, 1);
    g_autofree char *words = words_of(underlay);
    (void)state;
    assert_string_equal(words, "mia/2 amo/2 te/1 a/1.");
    assert_int_equal(underlay->notes[1].n_begun, 2);
    assert_int_equal(underlay->notes[3].n_begun, 2);
}

/* How an elision is sung once the sounds are known: the stressed vowel, else the more open one, else the later one. */
static void test_sustained_vowel_of_an_elision(void **state)
{
    static const struct {
        const char *first, *second;
        gboolean first_stressed, second_stressed;
        int sustained;
    } rows[] = {{"i", "a", FALSE, FALSE, 1}, {"a", "i", FALSE, FALSE, 0}, {"a", "i", FALSE, TRUE, 1},
                {"i", "a", TRUE, FALSE, 0},  {"e", "o", FALSE, FALSE, 1}, {"a", "a", TRUE, TRUE, 1}};
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *notes = g_strdup_printf("C4:1:%s+%s D4:1", rows[i].first, rows[i].second);
        g_autoptr(aperta_score) score = fixture_score(notes);
        g_autoptr(aperta_underlay) underlay = aperta_align_verse(score, 1);
        for (guint k = 0; k < 2; k++) {
            aperta_syllable_sound *sound = &underlay->sounds[k];
            sound->origin = APERTA_SOUND_SURE;
            sound->judged_as = g_strdup(k == 0 ? rows[i].first : rows[i].second);
            sound->stressed = k == 0 ? rows[i].first_stressed : rows[i].second_stressed;
        }
        align_choose_sustained(underlay);
        assert_int_equal(underlay->notes[0].sung_on, rows[i].sustained);
        assert_int_equal(underlay->notes[1].sung_on, rows[i].sustained); /* the melisma follows */
    }
}

static char *lines_of(const char *notes)
{
    g_autoptr(aperta_score) score = fixture_score(notes);
    g_autoptr(aperta_underlay) underlay = aperta_align_verse(score, score->n_verses > 0 ? 1 : 0);
    GString *text = g_string_new(NULL);
    guint n = 0;

    for (guint i = 0; i < underlay->n_lines; i++) {
        const aperta_laid_line *line = &underlay->lines[i];
        assert_int_equal(line->first_note, n); /* together they hold every note once */
        n += line->n_notes;
        g_string_append_printf(text, "%s%u%s", i > 0 ? " " : "", line->n_notes, line->sung ? "" : "~");
    }
    assert_int_equal(n, score->n_notes);
    return g_string_free(text, FALSE);
}

static void test_lines(void **state)
{
    static const char *const rows[][2] = {
        {"C4:1:a D4:1:b. E4:1:c D4:1:d", "2 2"},
        {"C4:1:a D4:1:b, E4:1:c D4:1:d", "4"}, /* too short for a comma to end it */
        {"C4:1:a D4:1:b E4:1:c D4:1:d, E4:1:e", "4 1"},
        {"C4:1:a D4:1:b E4:1:c D4:1:d r:1 E4:1:e", "4 1"},
        {"C4:1:a D4:1:b E4:1:c D4:1:wa- r:1 E4:1:-ter", "5"}, /* not within a word */
        {"C4:1:a. D4:0 E4:1:b", "1 2"},                       /* a grace note goes with what it leads to */
        {"C4:1 D4:1 E4:1:a D4:1:b r:1 C4:1 C4:1", "2~ 2 2~"}, /* before and after the words */
        {"C4:1 D4:1 r:2 E4:1", "2~ 1~"},
    };
    (void)state;
    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *found = lines_of(rows[i][0]);
        assert_string_equal(found, rows[i][1]);
    }
}

static void test_text_for_guessing(void **state)
{
    g_autoptr(aperta_score) score = fixture_score("C4:1:wa- D4:1:-ter, E4:1:low");
    g_autoptr(aperta_underlay) underlay = aperta_align_verse(score, 1);
    g_autofree char *text = aperta_underlay_text(underlay);
    (void)state;
    assert_string_equal(text, "water\nlow\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_words),
        cmocka_unit_test(test_melismas),
        cmocka_unit_test(test_verses),
        cmocka_unit_test(test_elision),
        cmocka_unit_test(test_sustained_vowel_of_an_elision),
        cmocka_unit_test(test_lines),
        cmocka_unit_test(test_text_for_guessing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
