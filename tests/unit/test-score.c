/* test-score.c - notes and keys of MusicXML. The structure rules are those of the W3C MusicXML 4.0 documentation
 * (https://www.w3.org/2021/06/musicxml40/); the element is named at each test. */
#include "expect.h"
#include "score-reading.h"
#include "score/score-private.h"

#include <string.h>

/* expect_shown() of a text that it frees. */
static void expect_reading(char *text, const char *expected)
{
    expect_shown(text, expected);
    g_free(text);
}

static char *bar_of(char *notes)
{
    char *bar = one_bar(notes);

    g_free(notes);
    return bar;
}

/* <duration> counts <divisions> of a quarter; <backup> and <forward> move, <chord/> stays. */
static void test_durations(void **state)
{
    (void)state;
    g_autofree char *text =
        one_part("<measure number='1'><attributes><divisions>6</divisions></attributes>"
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

/* Lengths that are missing, negative, nothing, or no number; <type> tells what the note looks like. */
static void test_odd_durations(void **state)
{
    (void)state;
    g_autofree char *text =
        one_bar("<note><pitch><step>C</step><octave>4</octave></pitch><type>half</type><dot/></note>"
                "<note><pitch><step>D</step><octave>4</octave></pitch><duration>-2</duration><type>eighth</type></note>"
                "<note><pitch><step>E</step><octave>4</octave></pitch><duration>x</duration></note>"
                "<note><pitch><step>F</step><octave>4</octave></pitch><duration>0</duration></note>"
                "<note><pitch><step>G</step><octave>4</octave></pitch><duration>1</duration></note>");
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C4@0+3 D4@3+0.5 E4@3.5+0 F4@3.5+0 G4@3.5+0.5");
    assert_true(has_remark(score, "Notes without a length take that of their note value (1 note)"));
    assert_true(has_remark(score, "Lengths that make no sense are read as none (2 lengths)"));
}

/* No <divisions> at all: the note values count. */
static void test_no_divisions(void **state)
{
    (void)state;
    g_autofree char *text = one_part(
        "<measure><attributes><divisions>0</divisions></attributes>"
        "<note><pitch><step>C</step><octave>4</octave></pitch><duration>480</duration><type>quarter</type></note>"
        "<note><pitch><step>D</step><octave>4</octave></pitch><duration>2</duration></note></measure>");
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C4@0+1 D4@1+2");
    assert_true(has_remark(score, "before their unit (divisions); note values were read (2 notes)"));
    assert_true(has_remark(score, "A unit of lengths (divisions) makes no sense"));
}

/* <tie>: joined, unless the second note has a syllable of its own in any verse, or another pitch, or comes later. */
static void test_ties(void **state)
{
    static const char start[] = "<tie type='start'/>";
    static const char stop[] = "<tie type='stop'/>";
    static const char both[] = "<tie type='stop'/><tie type='start'/>";
    (void)state;

    expect_reading(bar_of(joined(note_xml("C4", 2, "long", start), note_xml("C4", 2, NULL, both),
                                 note_xml("C4", 1, NULL, stop), note_xml("C4", 1, NULL, NULL), NULL)),
                   "C4@0+2.5 {1:long} C4@2.5+0.5");
    expect_reading(bar_of(joined(note_xml("C4", 2, "long", start), note_xml("C4", 2, "er", stop), NULL)),
                   "C4@0+1 {1:long} C4@1+1 {1:er}");
    expect_reading(
        bar_of(joined(note_xml("C4", 2, "a", start),
                      note_xml("C4", 2, NULL, "<tie type='stop'/><lyric number='2'><text>b</text></lyric>"), NULL)),
        "C4@0+1 {1:a} C4@1+1 {2:b}");
    expect_reading(bar_of(joined(note_xml("C4", 2, "a", start), note_xml("D4", 2, NULL, stop), NULL)),
                   "C4@0+1 {1:a} D4@1+1");
    expect_reading(bar_of(joined(note_xml("C4", 2, "a", start), g_strdup("<note><rest/><duration>2</duration></note>"),
                                 note_xml("C4", 2, NULL, stop), NULL)),
                   "C4@0+1 {1:a} C4@2+1");
    /* an extender is no syllable */
    expect_reading(bar_of(joined(note_xml("C4", 2, "a", start),
                                 note_xml("C4", 2, NULL, "<tie type='stop'/><lyric><extend/></lyric>"), NULL)),
                   "C4@0+2 {1:a}");
    /* only printed, <tied> */
    expect_reading(bar_of(joined(note_xml("C4", 2, "a", "<notations><tied type='start'/></notations>"),
                                 note_xml("C4", 2, NULL, "<notations><tied type='stop'/></notations>"), NULL)),
                   "C4@0+2 {1:a}");
}

/* A tie goes over the bar line, and over a change of divisions. */
static void test_tie_over_bar_line(void **state)
{
    (void)state;
    g_autofree char *text =
        one_part("<measure number='1'><attributes><divisions>3</divisions></attributes>"
                 "<note><pitch><step>C</step><octave>4</octave></pitch><duration>2</duration><tie type='start'/></note>"
                 "</measure><measure number='2'><attributes><divisions>7</divisions></attributes>"
                 "<note><pitch><step>C</step><octave>4</octave></pitch><duration>7</duration><tie type='stop'/></note>"
                 "</measure>");

    expect_shown(text, "C4@0+1.66667");
}

/* <grace>: takes no time, and may carry a syllable. */
static void test_grace(void **state)
{
    (void)state;
    expect_reading(bar_of(joined(g_strdup("<note><grace slash='yes'/><pitch><step>D</step><octave>5</octave></pitch>"
                                          "<lyric><text>ah</text></lyric></note>"),
                                 note_xml("C5", 2, NULL, NULL), note_xml("B4", 2, "so", "<tie type='start'/>"),
                                 g_strdup("<note><grace/><pitch><step>C</step><octave>5</octave></pitch></note>"),
                                 note_xml("B4", 2, NULL, "<tie type='stop'/>"), NULL)),
                   "D5@0+0 {1:ah} C5@0+1 B4@1+2 {1:so} C5@2+0");
}

/* <chord>: the top note is sung; words of all its notes count once. */
static void test_chords(void **state)
{
    (void)state;
    g_autofree char *text = bar_of(joined(note_xml("C4", 2, "sing", NULL), note_xml("G4", 2, "sing", "<chord/>"),
                                          note_xml("E4", 2, NULL, "<chord/>"), note_xml("D4", 2, "on", NULL),
                                          note_xml("B3", 2, NULL, "<chord/>"), NULL));
    /* in the schema <chord/> stands first; where it stands is all the same to us */
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "G4@0+1 {1:sing} D4@1+1 {1:on}");
    assert_true(has_remark(score, "The top note of each chord was taken as the one that is sung (2 chords)"));
    assert_int_equal(score->notes[1].element, 3);
}

/* The syllables that are left out, as "text verse why". */
static void expect_left_out(const aperta_score *score, const char *expected)
{
    g_autoptr(GString) list = g_string_new(NULL);

    for (guint i = 0; i < score->n_left_out; i++) {
        const aperta_left_out *one = &score->left_out[i];
        assert_string_equal(one->bar, "1");
        g_string_append_printf(list, "%s%s %d %s", i > 0 ? ", " : "", one->text, one->verse, one->why);
    }
    assert_string_equal(list->str, expected);
}

static char *voiced(const char *pitch, int duration, const char *lyric, const char *voice)
{
    g_autofree char *extra = g_strdup_printf("<voice>%s</voice>", voice);

    return note_xml(pitch, duration, lyric, extra);
}

/* <voice>: the one with the words is read; "P1/2" names a voice. */
static void test_voices(void **state)
{
    (void)state;
    g_autofree char *text =
        bar_of(joined(voiced("C5", 2, NULL, "1"), voiced("D5", 2, NULL, "1"), voiced("E5", 4, NULL, "1"),
                      g_strdup("<backup><duration>8</duration></backup>"), voiced("C4", 4, "low", "2"),
                      voiced("B3", 4, "er", "2"), NULL));
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C4@0+2 {1:low} B3@2+2 {1:er}");
    assert_true(has_remark(score, "The part has 2 voices; voice 2 was read, which has most words"));
    g_autoptr(aperta_score) upper = read_text_with(text, "P1/1", 0);
    g_autofree char *upper_shown = show(upper);
    assert_string_equal(upper_shown, "C5@0+1 D5@1+1 E5@2+2");
}

/* Words that are not read are counted and told. */
static void test_two_voices_with_words(void **state)
{
    (void)state;
    g_autofree char *text =
        bar_of(joined(voiced("C5", 4, "high", "1"), voiced("D5", 4, "er", "1"),
                      g_strdup("<backup><duration>8</duration></backup>"), voiced("C4", 8, "low", "2"), NULL));
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C5@0+2 {1:high} D5@2+2 {1:er}");
    assert_true(
        has_remark(score, "Voice 2 has words of its own that are not read (1 syllable: \"low\"; part \"P1/2\""));
    assert_int_equal(score->parts[0].n_syllables, 3);
    expect_left_out(score, "low 1 voice");
}

/* A voice whose words stand where the other one has notes and no words says what both sing. */
static void test_words_of_another_voice(void **state)
{
    (void)state;
    g_autofree char *text =
        bar_of(joined(voiced("C5", 2, "one", "1"), voiced("D5", 2, NULL, "1"), voiced("E5", 2, "three", "1"),
                      voiced("F5", 2, NULL, "1"), g_strdup("<backup><duration>8</duration></backup>"),
                      voiced("C4", 2, NULL, "2"), voiced("D4", 2, "two", "2"), voiced("E4", 4, NULL, "2"), NULL));
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C5@0+1 {1:one} D5@1+1 {1:two} E5@2+1 {1:three} F5@3+1");
    assert_true(has_remark(score, "Words of voice 2 are read under the notes of voice 1 (1 syllable)"));
    expect_left_out(score, "");
}

/* Where the main voice has no notes in a bar, the line goes on in the voice that sings. */
static void test_line_changes_voice(void **state)
{
    (void)state;
    g_autofree char *first = joined(voiced("C5", 4, "one", "1"), voiced("D5", 4, "two", "1"), NULL);
    g_autofree char *second = joined(g_strdup("<note><rest measure='yes'/><duration>8</duration><voice>1</voice></note>"
                                              "<backup><duration>8</duration></backup>"),
                                     voiced("E5", 8, "three", "2"), NULL);
    g_autofree char *bars = g_strconcat("<measure number='1'><attributes><divisions>2</divisions></attributes>", first,
                                        "</measure><measure number='2'>", second, "</measure>", NULL);
    g_autofree char *text = one_part(bars);
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C5@0+2 {1:one} D5@2+2 {1:two} E5@4+4 {1:three}");
    assert_true(has_remark(score, "Voice 2 goes on where voice 1 is silent (1 note)"));
}

/* Two singers on one staff: the lower one's entry in the other's rest is not taken for hers. */
static void test_two_singers_on_a_staff(void **state)
{
    (void)state;
    g_autofree char *first = joined(voiced("C5", 4, "one", "1"), voiced("D5", 4, "two", "1"),
                                    g_strdup("<backup><duration>8</duration></backup>"), voiced("C4", 4, "one", "2"),
                                    voiced("D4", 4, "two", "2"), NULL);
    g_autofree char *second =
        joined(g_strdup("<note><rest/><duration>4</duration><voice>1</voice></note>"), voiced("E5", 4, "three", "1"),
               g_strdup("<backup><duration>8</duration></backup>"), voiced("E4", 4, "three", "2"), NULL);
    g_autofree char *bars = g_strconcat("<measure number='1'><attributes><divisions>2</divisions></attributes>", first,
                                        "</measure><measure number='2'>", second, "</measure>", NULL);
    g_autofree char *text = one_part(bars);
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C5@0+2 {1:one} D5@2+2 {1:two} E5@6+2 {1:three}");
    assert_true(
        has_remark(score, "Voice 2 has words of its own that are not read (1 syllable: \"three\"; part \"P1/2\" is"));
}

/* Two staves that both begin with voice 1. */
static void test_voices_of_two_staves(void **state)
{
    (void)state;
    g_autofree char *notes =
        joined(note_xml("C5", 4, "high", "<voice>1</voice><staff>1</staff>"),
               note_xml("D5", 4, "er", "<voice>1</voice>"), g_strdup("<backup><duration>8</duration></backup>"),
               note_xml("C3", 8, "low", "<voice>1</voice><staff>2</staff>"), NULL);
    g_autofree char *text = one_bar(notes);
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);
    g_autoptr(aperta_score) lower = read_text_with(text, "P1/1 staff 2", 0);
    g_autofree char *lower_shown = show(lower);

    assert_string_equal(shown, "C5@0+2 {1:high} D5@2+2 {1:er}");
    assert_true(has_remark(score, "Voice 1 staff 2 has words of its own that are not read (1 syllable: \"low\""));
    assert_string_equal(lower_shown, "C3@0+4 {1:low}");
}

/* The part with most words is read; a part is named by id, name or number. */
static void test_parts(void **state)
{
    (void)state;
    g_autofree char *piano =
        joined(note_xml("C3", 2, NULL, NULL), note_xml("E3", 2, NULL, NULL), note_xml("G3", 2, NULL, NULL), NULL);
    g_autofree char *mezzo = note_xml("A4", 6, "la", NULL);
    g_autofree char *text = two_parts(piano, mezzo);
    static const char *const names[] = {NULL, "P2", "Mezzo", "mezzo", "2", "P2/1"};

    for (gsize i = 0; i < G_N_ELEMENTS(names); i++) {
        g_autoptr(aperta_score) score = read_text_with(text, names[i], 0);
        assert_int_equal(score->part, 1);
        assert_int_equal(score->part_chosen, names[i] != NULL);
        assert_int_equal(score->n_notes, 1);
        assert_int_equal(has_remark(score, "Of 2 parts, P2 \"Mezzo\" was read, which has most words"),
                         names[i] == NULL);
    }
    g_autoptr(aperta_score) score = read_text_with(text, "Piano", 0);
    assert_int_equal(score->n_notes, 3);
    assert_true(has_remark(score, "This part has no words; other parts have some"));

    aperta_score_options options = {"Tenor", 0};
    GError *error = NULL;
    assert_null(score_read_bytes("song", text, strlen(text), &options, &error));
    assert_int_equal(error->code, APERTA_ERROR_RANGE);
    assert_string_equal(error->message, "song: there is no part \"Tenor\" (there are: P1 \"Piano\", P2 \"Mezzo\")");
    g_clear_error(&error);
    options = (aperta_score_options){NULL, 4};
    assert_null(score_read_bytes("song", text, strlen(text), &options, &error));
    assert_int_equal(error->code, APERTA_ERROR_RANGE);
    g_clear_error(&error);
}

static char *with_attributes(const char *attributes, const char *notes)
{
    g_autofree char *bar = g_strconcat("<measure number='1'><attributes><divisions>2</divisions>", attributes,
                                       "</attributes>", notes, "</measure>", NULL);

    return one_part(bar);
}

/* <transpose> goes from the written to the sounding pitch; <clef-octave-change> does not move <pitch>. */
static void test_transposition(void **state)
{
    (void)state;
    g_autofree char *d = note_xml("D5", 2, "sing", NULL);
    g_autofree char *clarinet = with_attributes("<key><fifths>2</fifths><mode>major</mode></key><transpose>"
                                                "<diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>",
                                                d);
    g_autoptr(aperta_score) score = read_text(clarinet);
    g_autofree char *shown = show(score);
    assert_string_equal(shown, "C5@0+1 {1:sing}");
    assert_int_equal(score->notes[0].fifths, 0);
    assert_true(score->key.known && score->key.tonic == 0 && !score->key.minor);

    g_autofree char *f_sharp = note_xml("F#5", 2, "sing", NULL);
    g_autofree char *no_steps = with_attributes("<key><fifths>2</fifths></key><transpose><chromatic>-2</chromatic>"
                                                "<octave-change>-1</octave-change></transpose>",
                                                f_sharp);
    expect_shown(no_steps, "E4@0+1 {1:sing}");
    g_autofree char *tenor = with_attributes("<transpose><chromatic>0</chromatic><octave-change>-1</octave-change>"
                                             "</transpose>",
                                             f_sharp);
    expect_shown(tenor, "F♯4@0+1 {1:sing}");
    g_autofree char *clef = with_attributes("<clef><sign>G</sign><line>2</line><clef-octave-change>-1"
                                            "</clef-octave-change></clef>",
                                            d);
    expect_shown(clef, "D5@0+1 {1:sing}");
    g_autoptr(aperta_score) lower = read_text_with(clef, NULL, -1);
    g_autofree char *lower_shown = show(lower);
    assert_string_equal(lower_shown, "D4@0+1 {1:sing}");
    assert_int_equal(lower->notes[0].midi, 62);
}

/* Written spellings stay; B♯ and C♭ belong to the octave of their letter (<octave> counts with <step>). */
static void test_spelling(void **state)
{
    (void)state;
    g_autofree char *notes =
        joined(note_xml("B#4", 2, NULL, NULL), note_xml("Cb5", 2, NULL, NULL), note_xml("Fb4", 2, NULL, NULL), NULL);
    g_autofree char *text = one_bar(notes);
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);
    static const int midi[] = {72, 71, 64};

    assert_string_equal(shown, "B♯4@0+1 C♭5@1+1 F♭4@2+1");
    for (guint i = 0; i < 3; i++)
        assert_int_equal(score->notes[i].midi, midi[i]);
}

/* The circle of fifths as every handbook of music prints it; from memory, unchecked. */
static void test_key_signatures(void **state)
{
    static const struct {
        int fifths;
        const char *major, *minor;
    } rows[] = {{-7, "C♭", "A♭"}, {-6, "G♭", "E♭"}, {-5, "D♭", "B♭"}, {-4, "A♭", "F"}, {-3, "E♭", "C"},
                {-2, "B♭", "G"},  {-1, "F", "D"},   {0, "C", "A"},    {1, "G", "E"},   {2, "D", "B"},
                {3, "A", "F♯"},   {4, "E", "C♯"},   {5, "B", "G♯"},   {6, "F♯", "D♯"}, {7, "C♯", "A♯"}};
    (void)state;

    for (gsize i = 0; i < G_N_ELEMENTS(rows); i++)
        for (int minor = 0; minor < 2; minor++) {
            g_autofree char *key = g_strdup_printf("<key><fifths>%d</fifths><mode>%s</mode></key>", rows[i].fifths,
                                                   minor ? "minor" : "major");
            g_autofree char *note = note_xml("C4", 2, NULL, NULL);
            g_autofree char *text = with_attributes(key, note);
            g_autoptr(aperta_score) score = read_text(text);
            g_autofree char *tonic = g_strconcat(minor ? rows[i].minor : rows[i].major, "4", NULL);
            int midi;
            assert_true(aperta_pitch_parse(tonic, &midi));
            assert_true(score->key.known);
            assert_int_equal(score->key.minor, minor);
            assert_string_equal(aperta_score_key_tonic(score), minor ? rows[i].minor : rows[i].major);
            assert_int_equal(score->key.tonic, midi % 12);
            assert_int_equal(score->notes[0].fifths, rows[i].fifths);
        }
}

/* <key> may change; a church mode is named by its signature, and said. */
static void test_key_changes(void **state)
{
    (void)state;
    g_autofree char *a = note_xml("C4", 2, NULL, NULL);
    g_autofree char *bars = g_strconcat(
        "<measure number='1'><attributes><divisions>2</divisions><key><fifths>0</fifths><mode>dorian</mode></key>"
        "</attributes>",
        a, "</measure><measure number='2'><attributes><key><fifths>-4</fifths></key></attributes>", a, "</measure>",
        NULL);
    g_autofree char *text = one_part(bars);
    g_autoptr(aperta_score) score = read_text(text);

    assert_true(score->key.known && score->key.minor && score->key.tonic == 9);
    assert_true(has_remark(score, "Church modes are named by the major or minor key of their signature"));
    assert_int_equal(score->notes[0].fifths, 0);
    assert_int_equal(score->notes[1].fifths, -4);
}

/* <repeat>, <ending>, jumps of <sound>: read once, and said. */
static void test_repeats(void **state)
{
    (void)state;
    g_autofree char *notes =
        joined(note_xml("C4", 2, "one", NULL), g_strdup("<barline><ending number='1' type='start'/></barline>"),
               note_xml("D4", 2, "two", NULL),
               g_strdup("<barline><ending number='1' type='stop'/><repeat direction='backward'/>"
                        "</barline><sound dacapo='yes'/>"),
               NULL);
    g_autofree char *text = one_bar(notes);
    g_autoptr(aperta_score) score = read_text(text);

    assert_int_equal(score->n_notes, 2);
    assert_true(has_remark(score, "Repeats and endings are read once, as written (2 signs)"));
    assert_true(has_remark(score, "Jumps (da capo, dal segno, coda) are read over, as written (1 sign)"));
}

/* Notes that nobody sings, with the syllables that go with them. */
static void test_silent_notes(void **state)
{
    (void)state;
    g_autofree char *notes =
        joined(note_xml("C4", 2, "sung", NULL),
               g_strdup("<note><cue/><pitch><step>E</step><octave>4</octave></pitch><duration>1</duration>"
                        "<lyric><text>cue</text></lyric></note>"
                        "<note><unpitched><display-step>E</display-step><display-octave>4</display-octave></unpitched>"
                        "<duration>1</duration><lyric><text>spoken</text></lyric></note>"
                        "<note><rest/><duration>1</duration><lyric><text>sigh</text></lyric></note>"
                        "<note><duration>1</duration></note>"
                        "<note><pitch><step>Q</step><octave>4</octave></pitch><duration>1</duration></note>"),
               note_xml("D4", 2, NULL, NULL), NULL);
    g_autofree char *text = one_bar(notes);
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C4@0+1 {1:sung} D4@3.5+1");
    assert_true(has_remark(score, "Cue notes are left out (1 note)"));
    assert_true(has_remark(score, "Notes without a pitch (spoken or percussion) are left out (1 note)"));
    assert_true(has_remark(score, "Notes without a pitch that can be read are left out (2 notes)"));
    assert_true(has_remark(score, "and are left out (3 syllables: \"cue\", \"spoken\", \"sigh\")"));
    assert_int_equal(score->parts[0].n_syllables, 4);
    expect_left_out(score, "cue 1 cue, spoken 1 no pitch, sigh 1 rest");
}

/* A small note has the size of a cue and sounds; a cue note of full size does not (W3C MusicXML 4.0, element <cue>). */
static void test_small_notes(void **state)
{
    (void)state;
    g_autofree char *text =
        one_bar("<note><pitch><step>C</step><octave>4</octave></pitch><duration>2</duration><type size='cue'>quarter"
                "</type><lyric><text>small</text></lyric></note>"
                "<note><cue/><pitch><step>E</step><octave>4</octave></pitch><duration>2</duration><type size='full'>"
                "quarter</type><lyric><text>silent</text></lyric></note>");
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C4@0+1 {1:small}");
    expect_left_out(score, "silent 1 cue");
}

/* A score of rests has no notes, and is none the less a score. */
static void test_rests_only(void **state)
{
    (void)state;
    g_autofree char *text = one_bar("<note><rest/><duration>8</duration><lyric><text>hush</text></lyric></note>");
    g_autoptr(aperta_score) score = read_text(text);

    assert_int_equal(score->n_notes, 0);
    assert_int_equal(score->n_verses, 0);
    expect_left_out(score, "hush 0 rest");
}

/* <chord/> joins a note of its bar; where there is none, it means nothing. */
static void test_chord_of_nothing(void **state)
{
    (void)state;
    g_autofree char *first = note_xml("C4", 4, "la", NULL);
    g_autofree char *second = note_xml("D4", 4, "lu", NULL);
    g_autofree char *notes = g_strconcat("<note><chord/>", first + strlen("<note>"), second, NULL);
    g_autofree char *text = one_bar(notes);

    expect_shown(text, "C4@0+2 {1:la} D4@2+2 {1:lu}");
}

/* <alter> may be a fraction; pitches may lie where no MIDI number is. */
static void test_odd_pitches(void **state)
{
    (void)state;
    g_autofree char *text =
        one_bar("<note><pitch><step>C</step><alter>0.5</alter><octave>4</octave></pitch><duration>2</duration></note>"
                "<note><pitch><step>C</step><octave>10</octave></pitch><duration>2</duration>"
                "<lyric><text>high</text></lyric></note>"
                "<note><pitch><step>D</step><alter>3</alter><octave>4</octave></pitch><duration>2</duration></note>");
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "C♯4@0+1 F4@2+1");
    assert_true(has_remark(score, "Pitches between two semitones are rounded (1 note)"));
    assert_true(has_remark(score, "Notes outside C-1 to G9 are left out (1 note)"));
    assert_true(has_remark(score, "(1 syllable: \"high\")"));
}

/* <backup> to before the bar. */
static void test_back_too_far(void **state)
{
    (void)state;
    g_autofree char *notes = joined(note_xml("C4", 2, NULL, NULL), g_strdup("<backup><duration>9</duration></backup>"),
                                    voiced("E5", 2, "up", "2"), NULL);
    g_autofree char *text = one_bar(notes);
    g_autoptr(aperta_score) score = read_text(text);
    g_autofree char *shown = show(score);

    assert_string_equal(shown, "E5@0+1 {1:up}");
    assert_true(has_remark(score, "Steps back to before the bar end at its beginning"));
}

/* <work>, <movement-title>, <identification>, and a title that is only printed (<credit>). */
static void test_titles(void **state)
{
    (void)state;
    g_autofree char *note = note_xml("C4", 2, NULL, NULL);
    g_autofree char *body = g_strconcat("<part-list><score-part id='P1'><part-name>Voice</part-name></score-part>"
                                        "</part-list><part id='P1'><measure number='1'>",
                                        note, "</measure></part></score-partwise>", NULL);
    g_autofree char *full = g_strconcat(
        "<score-partwise><work><work-title> Three songs </work-title></work><movement-title>Evening</movement-title>"
        "<identification><creator type='composer'>A. Maker</creator><creator type='lyricist'>B. Poet</creator>"
        "<creator type='poet'>C. Poet</creator></identification>",
        body, NULL);
    g_autofree char *printed = g_strconcat("<score-partwise><credit><credit-type>title</credit-type>"
                                           "<credit-words>Morning</credit-words></credit>",
                                           body, NULL);
    g_autoptr(aperta_score) score = read_text(full);
    g_autoptr(aperta_score) plain = read_text(printed);

    assert_string_equal(score->title, "Three songs: Evening");
    assert_string_equal(score->composer, "A. Maker");
    assert_string_equal(score->lyricist, "B. Poet, C. Poet");
    assert_string_equal(plain->title, "Morning");
    assert_null(plain->composer);
}

/* Encodings as declared: UTF-16 with its mark, Latin-1; a wrong UTF-16; a DOCTYPE that is not fetched. */
static void test_encodings(void **state)
{
    (void)state;
    static const struct {
        const char *written, *declared;
    } encodings[] = {{"UTF-8", "UTF-8"}, {"UTF-16", "UTF-16"}, {"ISO-8859-1", "ISO-8859-1"}, {"UTF-8", "UTF-16"}};
    g_autofree char *note = note_xml("C4", 2, "früh", NULL);

    for (gsize i = 0; i < G_N_ELEMENTS(encodings); i++) {
        g_autofree char *text = g_strconcat(
            "<?xml version=\"1.0\" encoding=\"", encodings[i].declared,
            "\" standalone=\"no\"?>\n"
            "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 3.1 Partwise//EN\" "
            "\"http://www.musicxml.org/dtds/partwise.dtd\">\n<score-partwise><part-list><score-part id='P1'>"
            "<part-name>Voice</part-name></score-part></part-list><part id='P1'><measure number='1'><attributes>"
            "<divisions>2</divisions></attributes>",
            note, "</measure></part></score-partwise>", NULL);
        gsize n;
        g_autofree char *bytes = g_convert(text, -1, encodings[i].written, "UTF-8", NULL, &n, NULL);
        g_autoptr(GError) error = NULL;
        g_autoptr(aperta_score) score = score_read_bytes("test", bytes, n, NULL, &error);
        assert_null(error);
        g_autofree char *shown = show(score);
        assert_string_equal(shown, "C4@0+1 {1:früh}");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_durations),
        cmocka_unit_test(test_timewise),
        cmocka_unit_test(test_odd_durations),
        cmocka_unit_test(test_no_divisions),
        cmocka_unit_test(test_ties),
        cmocka_unit_test(test_tie_over_bar_line),
        cmocka_unit_test(test_grace),
        cmocka_unit_test(test_chords),
        cmocka_unit_test(test_voices),
        cmocka_unit_test(test_two_voices_with_words),
        cmocka_unit_test(test_words_of_another_voice),
        cmocka_unit_test(test_line_changes_voice),
        cmocka_unit_test(test_two_singers_on_a_staff),
        cmocka_unit_test(test_voices_of_two_staves),
        cmocka_unit_test(test_parts),
        cmocka_unit_test(test_transposition),
        cmocka_unit_test(test_spelling),
        cmocka_unit_test(test_key_signatures),
        cmocka_unit_test(test_key_changes),
        cmocka_unit_test(test_repeats),
        cmocka_unit_test(test_silent_notes),
        cmocka_unit_test(test_small_notes),
        cmocka_unit_test(test_rests_only),
        cmocka_unit_test(test_chord_of_nothing),
        cmocka_unit_test(test_odd_pitches),
        cmocka_unit_test(test_back_too_far),
        cmocka_unit_test(test_titles),
        cmocka_unit_test(test_encodings),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
