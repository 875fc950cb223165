/* test-score.c - notes and times of MusicXML. The structure rules are those of the W3C MusicXML 4.0 documentation
 * (https://www.w3.org/2021/06/musicxml40/); the element is named at each test. */
#include "expect.h"
#include "score-reading.h"

#include <string.h>

/* <duration> counts <divisions> of a quarter; <backup> and <forward> move, <chord/> stays. */
static void test_durations(void **state)
{
    (void)state;
    g_autofree char *text = one_part(
        "<measure number='1'><attributes><divisions>6</divisions></attributes>"
        "<note><pitch><step>C</step><octave>4</octave></pitch><duration>6</duration></note>"
        "<note><pitch><step>D</step><octave>4</octave></pitch><duration>4</duration></note>"
        "<note><rest/><duration>2</duration></note>"
        "<forward><duration>6</duration></forward>"
        "<note><pitch><step>E</step><octave>4</octave></pitch><duration>3</duration></note></measure>"
        "<measure number='2'><attributes><divisions>2</divisions></attributes>"
        "<note><pitch><step>F</step><octave>4</octave></pitch><duration>1</duration></note></measure>");

    expect_shown(text, "C4@0+1 D4@1+0.666667 E4@3+0.5 F4@3.5+0.5");
}

/* <score-timewise>: the same music, measures outside and parts inside. */
static void test_timewise(void **state)
{
    (void)state;
    expect_shown("<score-timewise><part-list><score-part id='A'><part-name>Alto</part-name></score-part>"
                 "<score-part id='B'><part-name>Bass</part-name></score-part></part-list>"
                 "<measure number='1'><part id='A'><attributes><divisions>1</divisions></attributes>"
                 "<note><pitch><step>A</step><octave>4</octave></pitch><duration>2</duration>"
                 "<lyric><text>sing</text></lyric></note></part>"
                 "<part id='B'><attributes><divisions>4</divisions></attributes>"
                 "<note><pitch><step>A</step><octave>2</octave></pitch><duration>8</duration></note></part></measure>"
                 "<measure number='2'><part id='A'><note><pitch><step>B</step><alter>-1</alter><octave>4</octave>"
                 "</pitch><duration>1</duration><lyric><text>on</text></lyric></note></part>"
                 "<part id='B'><note><rest/><duration>4</duration></note></part></measure></score-timewise>",
                 "A4@0+2 {1:sing} B♭4@2+1 {1:on}");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_durations),
        cmocka_unit_test(test_timewise),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
