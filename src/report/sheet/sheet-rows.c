/* sheet-rows.c - the song as rows: for each line of the lyric the melody as a strip of bars, higher notes higher and
 * longer ones longer, the flagged ones marked; below each its syllable, its sounds and the shape to sing.
 *
 * A column is as wide as its note is long, or as its text asks for. A line that is too long goes on in a further row.
 */
#include "report/draw/svg.h"
#include "report/sheet/sheet-pictures.h"
#include "result/sheet-query.h"

#include <math.h>
#include <string.h>

#define LEFT          34.0 /* px, as all below; room for the names of the octaves */
#define RIGHT         8.0
#define COLUMN_GAP    9.0
#define LINE_GAP      26.0 /* between two lines in one row */
#define NOTE_LEAST    14.0
#define QUARTER       17.0 /* of a note's length, up to some quarters */
#define QUARTERS_MOST 4.0
#define TITLE_HEIGHT  16.0
#define PITCH_HEIGHT  14.0
#define SEMITONE      3.2
#define BAND_LEAST    34.0
#define BAND_MOST     76.0
#define BAR_HEIGHT    7.0
#define WORD_SIZE     15.0
#define SOUND_SIZE    12.0
#define MARK_SIZE     13.0
#define PITCH_SIZE    10.5
#define MARKER        4.0

typedef struct {
    const aperta_sheet_note *note;
    result_sheet_mark mark;
    gboolean word_goes_on; /* after its syllable, with another one */
    char *syllable;
    char *sounds;
    char *sign; /* that stands for the mark; NULL: none */
    double width;
} note_column;

static void column_clear(gpointer data)
{
    note_column *column = data;

    g_free(column->syllable);
    g_free(column->sounds);
    g_free(column->sign);
}

static void row_clear(gpointer data)
{
    sheet_row *row = data;

    g_free(row->svg);
    g_free(row->spoken);
}

/* A line of the lyric, or a part of it, that stands in a row. */
typedef struct {
    GArray *columns; /* note_column; the line's, shared by its parts */
    guint from, to;
    char *title;
    double width;
} piece;

static void piece_clear(gpointer data)
{
    piece *one = data;

    g_array_unref(one->columns);
    g_free(one->title);
}

typedef struct {
    const aperta_sheet *sheet;
    const aperta_sheet_verse *verse;
    guint verse_index;
    gboolean inside;
    double width;   /* of the picture */
    double band;    /* height of the strip */
    GArray *pieces; /* of the row that is being filled */
    double filled;  /* width of them */
    GArray *rows;
} typesetter;

static double sign_width(const note_column *column)
{
    return column->sign != NULL ? svg_text_width("ap-strong", column->sign, MARK_SIZE) + 3.0 * MARKER + 2.0 : 0.0;
}

static note_column column_of(const typesetter *t, const aperta_sheet_note *note)
{
    note_column column = {.note = note,
                          .mark = result_sheet_mark_of(note),
                          .word_goes_on = note->syllable != NULL && result_sheet_word_goes_on(t->verse, note),
                          .syllable = words_sheet_syllable(t->verse, note),
                          .sounds = words_sheet_sounds(note)};
    const char *ink = column.mark.kind != RESULT_MARK_NONE ? "ap-strong" : "";
    double quarters = CLAMP(note->score_note->length_quarters, 0.0, QUARTERS_MOST);

    column.sign = words_sheet_mark(&column.mark);
    column.width = NOTE_LEAST + QUARTER * quarters;
    column.width = fmax(column.width, svg_text_width(ink, column.syllable, WORD_SIZE));
    column.width = fmax(column.width, svg_text_width("", column.sounds, SOUND_SIZE));
    column.width = fmax(column.width, svg_text_width(ink, note->score_note->name, PITCH_SIZE));
    column.width = fmax(column.width, sign_width(&column)) + COLUMN_GAP;
    return column;
}

static double y_of(const typesetter *t, int midi)
{
    int range = MAX(t->sheet->highest - t->sheet->lowest, 1);

    return TITLE_HEIGHT + PITCH_HEIGHT + t->band * (t->sheet->highest - midi) / range;
}

/* ---- one row ----------------------------------------------------------------------------------------------------- */

/* A thin line at each C, with its name. */
static void draw_octaves(const typesetter *t, svg_picture *svg)
{
    for (int midi = 0; midi <= 127; midi += 12) {
        char name[APERTA_PITCH_NAME_MAX];
        if (midi < t->sheet->lowest || midi > t->sheet->highest)
            continue;
        aperta_pitch_spell(midi, NULL, name);
        double y = y_of(t, midi) + BAR_HEIGHT / 2.0;
        svg_shape(svg, "line", "ap-grid", "x1", LEFT - 4.0, "y1", y, "x2", t->width - RIGHT, "y2", y, NULL);
        svg_text(svg, "ap-quiet", LEFT - 8.0, y + 4.0, PITCH_SIZE, SVG_END, name);
    }
}

static void draw_bar(const typesetter *t, svg_picture *svg, const note_column *column, double x)
{
    static const char *const classes[] = {"ap-sung", "ap-watch", "ap-change"};
    const aperta_score_note *note = column->note->score_note;
    aperta_level level = column->mark.level;
    double y = y_of(t, note->midi);

    svg_shape(svg, "rect", classes[level], "x", x, "y", y, "width", fmax(column->width - COLUMN_GAP, 4.0), "height",
              note->length_quarters > 0.0 ? BAR_HEIGHT : BAR_HEIGHT / 2.0, "rx", 2.5, NULL);
    svg_text(svg, level > APERTA_LEVEL_FINE ? "ap-strong ap-halo" : "ap-quiet ap-halo", x, y - 3.5, PITCH_SIZE,
             SVG_START, note->name);
}

static void draw_words(const typesetter *t, svg_picture *svg, const note_column *column, double x)
{
    double y = TITLE_HEIGHT + PITCH_HEIGHT + t->band + BAR_HEIGHT + 17.0;
    aperta_level level = column->mark.level;

    if (column->note->syllable == NULL && column->note->goes_on)
        svg_shape(svg, "line", "ap-held", "x1", x - COLUMN_GAP, "y1", y + 1.0, "x2", x + column->width - COLUMN_GAP,
                  "y2", y + 1.0, NULL);
    else if (*column->syllable != '\0')
        svg_text(svg, level > APERTA_LEVEL_FINE ? "ap-strong" : "", x, y, WORD_SIZE, SVG_START, column->syllable);
    if (*column->sounds != '\0')
        svg_text(svg, "ap-quiet", x, y + 16.0, SOUND_SIZE, SVG_START, column->sounds);
    if (column->sign == NULL)
        return;
    svg_marker(svg, SVG_FINE + level, FALSE, x + MARKER, y + 30.0, MARKER);
    svg_text(svg, "ap-strong", x + 3.0 * MARKER, y + 34.5, MARK_SIZE, SVG_START, column->sign);
}

static void draw_piece(const typesetter *t, svg_picture *svg, const piece *one, double x)
{
    svg_text(svg, "ap-quiet", x, 11.0, PITCH_SIZE, SVG_START, one->title);
    for (guint i = one->from; i < one->to; i++) {
        const note_column *column = &g_array_index(one->columns, note_column, i);
        g_autofree char *hover = words_sheet_hover(column->note);
        svg_open_group(svg, "ap-note", hover);
        draw_bar(t, svg, column, x);
        draw_words(t, svg, column, x);
        svg_close_group(svg);
        x += column->width;
    }
}

/* What a screen reader says of a part of a line. */
static char *spoken_of(const typesetter *t, const piece *one)
{
    g_autoptr(GPtrArray) notes = g_ptr_array_new_with_free_func(g_free);

    for (guint i = one->from; i < one->to; i++)
        g_ptr_array_add(notes, words_sheet_spoken_note(t->verse, g_array_index(one->columns, note_column, i).note));
    g_ptr_array_add(notes, NULL);
    return words_sheet_spoken_line(one->title, (char **)notes->pdata);
}

static char *spoken_of_row(const typesetter *t)
{
    GString *spoken = g_string_new(NULL);

    for (guint k = 0; k < t->pieces->len; k++) {
        g_autofree char *words = spoken_of(t, &g_array_index(t->pieces, piece, k));
        g_string_append_printf(spoken, k > 0 ? " %s" : "%s", words);
    }
    return g_string_free(spoken, FALSE);
}

/* Is anything flagged in the row? */
static gboolean is_marked(const GArray *pieces)
{
    for (guint k = 0; k < pieces->len; k++) {
        const piece *one = &g_array_index(pieces, piece, k);
        for (guint i = one->from; i < one->to; i++)
            if (g_array_index(one->columns, note_column, i).mark.kind != RESULT_MARK_NONE)
                return TRUE;
    }
    return FALSE;
}

/* The pieces that have gathered become a row. */
static void finish_row(typesetter *t)
{
    const char *title = words_sheet_caption(WORDS_ROWS_TITLE);
    double x = LEFT;

    if (t->pieces->len == 0)
        return;
    char *spoken = spoken_of_row(t);
    const sheet_row *last = t->rows->len > 0 ? &g_array_index(t->rows, sheet_row, t->rows->len - 1) : NULL;
    sheet_row row = {.height =
                         TITLE_HEIGHT + PITCH_HEIGHT + t->band + BAR_HEIGHT + (is_marked(t->pieces) ? 58.0 : 40.0),
                     .spoken = spoken,
                     .verse = t->verse_index,
                     .verse_begins = last == NULL || last->verse != t->verse_index};
    svg_picture svg = t->inside ? svg_begin_inside(t->width, row.height, title, spoken)
                                : svg_begin(t->width, row.height, title, spoken);
    draw_octaves(t, &svg);
    for (guint k = 0; k < t->pieces->len; k++) {
        const piece *one = &g_array_index(t->pieces, piece, k);
        draw_piece(t, &svg, one, x);
        x += one->width + LINE_GAP;
    }
    row.svg = svg_end(&svg);
    g_array_append_val(t->rows, row);
    g_array_set_size(t->pieces, 0);
    t->filled = 0.0;
}

/* ---- lines ------------------------------------------------------------------------------------------------------- */

/* How many columns fit from the given one on; a word is kept whole where it can be. */
static guint fitting(const typesetter *t, const GArray *columns, guint from)
{
    double width = LEFT + RIGHT;
    guint at = from, good = 0;

    for (; at < columns->len; at++) {
        const note_column *column = &g_array_index(columns, note_column, at);
        width += column->width;
        if (width > t->width + COLUMN_GAP && at > from)
            break;
        if (at > from && column->note->syllable != NULL && !g_array_index(columns, note_column, at - 1).word_goes_on)
            good = at;
    }
    return at == columns->len || good == 0 ? at : good;
}

static void set_line(typesetter *t, const aperta_laid_line *line, int number)
{
    g_autoptr(GArray) columns = g_array_new(FALSE, FALSE, sizeof(note_column));
    g_autofree char *bars = words_sheet_bars(t->sheet, t->verse, line);
    g_autofree char *title = bars != NULL ? g_strdup_printf("%d   %s", number, bars) : g_strdup_printf("%d", number);

    g_array_set_clear_func(columns, column_clear);
    for (guint i = 0; i < line->n_notes; i++) {
        note_column column = column_of(t, result_sheet_note_at(t->sheet, t->verse->first_note + line->first_note + i));
        g_array_append_val(columns, column);
    }
    for (guint from = 0; from < columns->len;) {
        piece one = {g_array_ref(columns), from, fitting(t, columns, from),
                     g_strdup(from == 0 ? title : words_sheet_caption(WORDS_ROWS_CONTINUED)), 0.0};
        for (guint i = one.from; i < one.to; i++)
            one.width += g_array_index(columns, note_column, i).width;
        if (t->filled + one.width > t->width - LEFT - RIGHT + COLUMN_GAP)
            finish_row(t);
        t->filled += one.width + LINE_GAP;
        from = one.to;
        g_array_append_val(t->pieces, one);
    }
}

GArray *sheet_rows(const aperta_sheet *sheet, double width, gboolean inside)
{
    typesetter t = {.sheet = sheet,
                    .inside = inside,
                    .width = width,
                    .band = CLAMP(SEMITONE * (sheet->highest - sheet->lowest), BAND_LEAST, BAND_MOST),
                    .pieces = g_array_new(FALSE, FALSE, sizeof(piece)),
                    .rows = g_array_new(FALSE, FALSE, sizeof(sheet_row))};

    g_array_set_clear_func(t.pieces, piece_clear);
    g_array_set_clear_func(t.rows, row_clear);
    for (guint v = 0; v < sheet->verses->len; v++) {
        int number = 0;
        t.verse = result_sheet_verse(sheet, v);
        t.verse_index = v;
        for (guint i = 0; i < t.verse->underlay->n_lines; i++) {
            const aperta_laid_line *line = &t.verse->underlay->lines[i];
            if (result_sheet_shows_line(sheet, t.verse, line))
                set_line(&t, line, ++number);
        }
        finish_row(&t);
    }
    g_array_unref(t.pieces);
    return t.rows;
}
