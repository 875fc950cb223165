/* test-score-time.c - tempi, bars and the weight of beats. Structure rules: W3C MusicXML 4.0
 * (https://www.w3.org/2021/06/musicxml40/); the element is named at each test. */
#include "expect.h"
#include "score-reading.h"

#include <string.h>

/* <sound tempo> is in quarters a minute; <metronome> in its own note value; a change in mid-bar holds from there. */
static void test_tempo(void **state)
{
    (void)state;
    g_autofree char *a = note_xml("C4", 2, NULL, NULL);
    g_autofree char *bars = g_strconcat(
        "<measure number='1'><attributes><divisions>2</divisions></attributes>"
        "<direction><direction-type><metronome><beat-unit>quarter</beat-unit><beat-unit-dot/>"
        "<per-minute>ca. 40</per-minute></metronome></direction-type></direction>",
        a, "<sound tempo='120'/>", a,
        "</measure><measure number='2'><direction><direction-type><metronome>"
        "<beat-unit>quarter</beat-unit><beat-unit>half</beat-unit></metronome></direction-type></direction>",
        a, a,
        "</measure><measure number='3'><direction><direction-type><metronome><beat-unit>quarter</beat-unit>"
        "<per-minute>30</per-minute></metronome></direction-type><sound tempo='60'/></direction>",
        a, "</measure>", NULL);
    g_autofree char *text = one_part(bars);
    g_autoptr(aperta_score) score = read_text(text);

    expect_near(score->tempo_bpm, 60.0, 1e-9); /* a dotted quarter at 40 is a quarter at 60 */
    static const double starts_s[] = {0.0, 1.0, 1.5, 1.75, 2.0};
    for (guint i = 0; i < 5; i++)
        expect_near(note_of(score, i)->start_s, starts_s[i], 1e-9);
    expect_near(note_of(score, 4)->end_s, 3.0, 1e-9);
}

/* A tempo that stands in another part holds for all (<sound>: applies to the whole score). */
static void test_tempo_of_another_part(void **state)
{
    (void)state;
    g_autofree char *piano = joined(g_strdup("<direction><direction-type><words>slow</words></direction-type>"
                                             "<sound tempo='30'/></direction>"),
                                    note_xml("C3", 8, NULL, NULL), NULL);
    g_autofree char *mezzo = note_xml("A4", 6, "la", NULL);
    g_autofree char *text = two_parts(piano, mezzo);
    g_autoptr(aperta_score) score = read_text(text);

    expect_near(note_of(score, 0)->end_s, 6.0, 1e-9);
    assert_false(has_remark(score, "No tempo is written"));
}

static void test_no_tempo(void **state)
{
    (void)state;
    g_autofree char *notes = note_xml("A4", 8, "la", NULL);
    g_autofree char *text = one_bar(notes);
    g_autoptr(aperta_score) score = read_text(text);

    expect_near(score->tempo_bpm, 0.0, 0.0);
    expect_near(note_of(score, 0)->end_s, 2.0, 1e-9);
    assert_true(has_remark(score, "No tempo is written; 120 quarters a minute are taken"));
}

/* Weight of the beats: common practice, no source. The pickup fills the end of its bar. */
static void test_bars_and_stress(void **state)
{
    (void)state;
    g_autofree char *a = note_xml("C4", 2, NULL, NULL);
    g_autofree char *e = note_xml("C4", 1, NULL, NULL);
    g_autofree char *bars =
        g_strconcat("<measure number='0' implicit='yes'><attributes><divisions>2</divisions><time><beats>4</beats>"
                    "<beat-type>4</beat-type></time></attributes>",
                    a, "</measure><measure number='1'>", a, e, e, a, a, "</measure><measure number='2'>", a, a,
                    "</measure><measure number='X1' implicit='yes'>", a, a, "</measure>", NULL);
    g_autofree char *text = one_part(bars);
    g_autoptr(aperta_score) score = read_text(text);
    static const struct {
        const char *bar;
        double stress;
    } rows[] = {{"0", 0.5}, {"1", 1.0}, {"1", 0.5}, {"1", 0.25},  {"1", 0.75},
                {"1", 0.5}, {"2", 1.0}, {"2", 0.5}, {"X1", 0.75}, {"X1", 0.5}};

    assert_int_equal(score->n_notes, G_N_ELEMENTS(rows));
    for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
        assert_string_equal(note_of(score, i)->bar, rows[i].bar);
        expect_near(note_of(score, i)->stress, rows[i].stress, 0.0);
    }
}

/* 6/8 has two beats of three eighths; 3+2/8 has a long and a short one. Common practice, no source. */
static void test_stress_of_compound_meters(void **state)
{
    static const struct {
        const char *beats;
        double stress[6];
    } rows[] = {{"6", {1.0, 0.25, 0.25, 0.75, 0.25, 0.25}}, {"3+2", {1.0, 0.25, 0.25, 0.75, 0.25, 1.0}}};
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autofree char *eighth = note_xml("C4", 1, NULL, NULL);
        g_autofree char *five = g_strconcat(eighth, eighth, eighth, eighth, eighth, NULL);
        g_autofree char *bars =
            g_strconcat("<measure number='1'><attributes><divisions>2</divisions><time><beats>", rows[i].beats,
                        "</beats><beat-type>8</beat-type></time></attributes>", five,
                        i == 0 ? "" : "</measure><measure number='2'>", eighth, "</measure><measure/>", NULL);
        g_autofree char *text = one_part(bars);
        g_autoptr(aperta_score) score = read_text(text);
        for (guint k = 0; k < 6; k++)
            expect_near(note_of(score, k)->stress, rows[i].stress[k], 0.0);
    }
}

/* Bars without a number are counted. */
static void test_unnumbered_bars(void **state)
{
    (void)state;
    g_autofree char *a = note_xml("C4", 2, NULL, NULL);
    g_autofree char *bars = g_strconcat("<measure number='7'><attributes><divisions>2</divisions></attributes>", a,
                                        "</measure><measure>", a, "</measure><measure>", a, "</measure>", NULL);
    g_autofree char *text = one_part(bars);
    g_autoptr(aperta_score) score = read_text(text);

    assert_string_equal(note_of(score, 1)->bar, "8");
    assert_string_equal(note_of(score, 2)->bar, "9");
}

/* Ten places, the last one first, each nearer to the next than places are told apart, and the first far from the last:
 * the order is that of time all the same. */
static char *crowded_bar(const char *first, const char *others)
{
    GString *bar = g_string_new("<measure number='1'><attributes><divisions>10000</divisions></attributes>"
                                "<forward><duration>197</duration></forward>");

    g_string_append(bar, first);
    for (int i = 0; i < 9; i++)
        g_string_append_printf(bar, "<backup><duration>9</duration></backup>%s", others);
    g_string_append(bar, "<forward><duration>9884</duration></forward><note><pitch><step>G</step><octave>4</octave>"
                         "</pitch><duration>10000</duration></note></measure>");
    return g_string_free(bar, FALSE);
}

static void test_crowded_places(void **state)
{
    (void)state;
    g_autofree char *tempi = crowded_bar("<sound tempo='60'/>", "<sound tempo='200'/>");
    g_autofree char *with_tempi = one_part(tempi);
    g_autoptr(aperta_score) timed = read_text(with_tempi);
    const aperta_score_note *note = note_of(timed, 0);
    expect_near(note->end_s - note->start_s, 1.0, 1e-9);

#define GRACE(step) "<note><grace/><pitch><step>" step "</step><octave>4</octave></pitch></note>"
    g_autofree char *graces = crowded_bar(GRACE("B"), GRACE("C"));
    g_autofree char *with_graces = one_part(graces);
    g_autoptr(aperta_score) score = read_text(with_graces);
    assert_int_equal(score->n_notes, 11);
    assert_string_equal(note_of(score, 9)->name, "B4");
    for (guint i = 1; i < score->n_notes; i++)
        assert_true(note_of(score, i)->start_quarters > note_of(score, i - 1)->start_quarters - 0.001);
}

/* A chain of ties is cut where a single note would be. */
static void test_long_ties(void **state)
{
    (void)state;
    g_autofree char *a = note_xml("C4", 600, "la", "<tie type='start'/>");
    g_autofree char *b = note_xml("C4", 600, NULL, "<tie type='stop'/><tie type='start'/>");
    g_autofree char *c = note_xml("C4", 600, NULL, "<tie type='stop'/>");
    g_autofree char *d = note_xml("D4", 600, NULL, NULL);
    g_autofree char *bars =
        g_strconcat("<measure><attributes><divisions>1</divisions></attributes>", a, "</measure><measure>", b,
                    "</measure><measure>", c, "</measure><measure>", d, "</measure>", NULL);
    g_autofree char *text = one_part(bars);
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C4@0+1000 {1:la} D4@1800+600");
    assert_true(has_remark(score, "Notes longer than 1000 quarters are cut there (1 note)"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_tempo),
        cmocka_unit_test(test_tempo_of_another_part),
        cmocka_unit_test(test_no_tempo),
        cmocka_unit_test(test_bars_and_stress),
        cmocka_unit_test(test_stress_of_compound_meters),
        cmocka_unit_test(test_unnumbered_bars),
        cmocka_unit_test(test_crowded_places),
        cmocka_unit_test(test_long_ties),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
