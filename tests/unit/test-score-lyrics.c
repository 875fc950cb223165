/* test-score-lyrics.c - syllables, verses, elisions, melismas. Structure rules: W3C MusicXML 4.0, element <lyric>. */
#include "expect.h"
#include "score-reading.h"

#include <string.h>

/* <syllabic>, and a melisma: a note without a lyric. */
static void test_words(void **state)
{
    (void)state;
    g_autofree char *a = note_xml("C4", 2, "Sil-", NULL);
    g_autofree char *b = note_xml("D4", 2, "-ver", NULL);
    g_autofree char *c = note_xml("E4", 2, "moon", NULL);
    g_autofree char *d = note_xml("F#4", 2, NULL, NULL);
    g_autofree char *notes = g_strconcat(a, b, c, d, NULL);
    g_autofree char *text = one_bar(notes);

    expect_shown(text, "C4@0+1 {1:Sil-} D4@1+1 {1:-ver} E4@2+1 {1:moon} F♯4@3+1");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
