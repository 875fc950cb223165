/* text-table.c - one line a note, as wide as the page allows.
 *
 * Every column is as wide as its widest entry. If the lines do not fit, the table is set tighter: first without the
 * words of confidence, then without intervals and vibrato, last without lengths and the ends of glides; what is left
 * out is said under the table, and on how wide a page it stands. */
#include "report/take/text-private.h"
#include "result/query.h"
#include "words/take-words.h"

#include <math.h>

enum { NO, TIME, PITCH, LASTS, VIBRATO, F1, F2, TOLD, VOWEL, F1_TO_2F0, LEVEL, N_COLUMNS };
typedef enum { ROOMY, TIGHT, TIGHTER, TIGHTEST } tightness;

typedef struct {
    char *cells[N_COLUMNS];
    aperta_level level;
} line;

static const gboolean right_aligned[N_COLUMNS] = {[NO] = TRUE, [TIME] = TRUE, [LASTS] = TRUE, [F1_TO_2F0] = TRUE};

static void line_free(gpointer data)
{
    line *l = data;

    for (int i = 0; i < N_COLUMNS; i++)
        g_free(l->cells[i]);
    g_free(l);
}

static char *pitch_cell(const aperta_sung_note *note)
{
    g_autofree char *cents = words_signed(note->cents, 0, TRUE);
    int fill = MAX(8 - text_width(note->name) - text_width(cents), 1);

    return g_strdup_printf("%s%*s%s", note->name, fill, "", cents);
}

static char *vibrato_cell(const aperta_vibrato *vibrato)
{
    if (vibrato->status == APERTA_VIBRATO_STRAIGHT)
        return g_strdup("straight");
    if (vibrato->status == APERTA_VIBRATO_TOO_SHORT)
        return g_strdup("short");
    g_autoptr(GString) cell = g_string_new(NULL);
    words_append_number(cell, vibrato->rate_hz, 1);
    g_string_append_printf(cell, " ±%.0f", vibrato->extent_cents);
    return g_string_free(g_steal_pointer(&cell), FALSE);
}

#define LOPSIDED 1.5 /* an interval whose wider side is this much wider is told by its ends; chosen */

static char *resonance_cell(const aperta_tract_reading *tract, int index, tightness tight)
{
    const aperta_resonance *r = &tract->resonances[index];
    const aperta_resonance *first = &tract->first[index];
    const aperta_resonance *last = &tract->last[index];

    if (tight < TIGHTEST && tract->glides && first->status == APERTA_MEASURED && last->status == APERTA_MEASURED)
        return g_strdup_printf("%.0f→%.0f", first->hz, last->hz);
    if (r->status == APERTA_BOUNDED)
        return g_strdup_printf("%s%.0f", r->has_high ? (tight ? "<" : "below ") : (tight ? ">" : "above "),
                               r->has_high ? r->high_hz : r->low_hz);
    if (r->status != APERTA_MEASURED)
        return g_strdup("?");
    if (tight >= TIGHTER)
        return g_strdup_printf("%.0f", r->hz);
    double above = r->high_hz - r->hz, below = r->hz - r->low_hz;
    if (fmax(above, below) > LOPSIDED * fmin(above, below)) /* ± would promise what lies on the narrow side */
        return g_strdup_printf("%.0f–%.0f", r->low_hz, r->high_hz);
    return g_strdup_printf("%.0f±%.0f", r->hz, fmax(above, below));
}

static char *told_cell(const aperta_sung_note *note)
{
    gboolean told = note->intended_from == APERTA_INTENDED_TOLD;

    return told ? g_strdup_printf("%s %s", note->intended->ipa, note->intended->respelling) : g_strdup("");
}

/* What was heard, whatever was told; a correction overrules it. */
static char *vowel_cell(const aperta_sung_note *note, tightness tight)
{
    gboolean corrected = note->intended_from == APERTA_INTENDED_CORRECTION;
    const aperta_vowel *vowel = corrected ? note->intended : note->vowel.heard;

    if (vowel == NULL)
        return g_strdup("?");
    if (!corrected && note->judged != APERTA_PART_WHOLE) {
        const aperta_vowel *first = note->first_vowel.heard, *last = note->last_vowel.heard;
        return g_strdup_printf("%s %s→%s %s", first->ipa, first->respelling, last->ipa, last->respelling);
    }
    if (!corrected && note->vowel.vowel_class.known)
        return aperta_vowel_class_words(&note->vowel.vowel_class);
    const char *word = corrected ? "given" : words_confidence_word(note->vowel.confidence);
    gboolean doubtful = !corrected && result_confidence_of(note->vowel.confidence) == RESULT_UNSURE;
    if (tight) /* no room for the word, but a name alone would promise what nobody knows */
        return g_strdup_printf("%s %s%s", vowel->ipa, vowel->respelling, doubtful ? "?" : "");
    return g_strdup_printf("%s %s %s", vowel->ipa, vowel->respelling, word);
}

/* Both ends where one value would say more than is known: "−24…−3". */
static char *distance_cell(const aperta_sung_note *note)
{
    const aperta_resonance *f1 = &aperta_sung_note_resonances(note)[0];
    double from_hz = 2.0 * note->note.f0_hz;

    if (f1->status == APERTA_UNKNOWN || from_hz <= 0.0)
        return g_strdup("?");
    if (f1->status == APERTA_BOUNDED) {
        double limit_hz = f1->has_high ? f1->high_hz : f1->low_hz;
        g_autofree char *limit = words_signed(aperta_semitones_between(from_hz, limit_hz), 1, TRUE);
        return g_strconcat(f1->has_high ? "<" : ">", limit, NULL);
    }
    if (!aperta_resonance_is_wide(f1))
        return words_signed(aperta_semitones_between(from_hz, f1->hz), 1, TRUE);
    g_autofree char *low = words_signed(aperta_semitones_between(from_hz, f1->low_hz), 0, TRUE);
    g_autofree char *high = words_signed(aperta_semitones_between(from_hz, f1->high_hz), 0, TRUE);
    return g_strconcat(low, "…", high, NULL);
}

static line *line_of(const aperta_sung_note *note, tightness tight)
{
    line *l = g_new0(line, 1);
    g_autoptr(GString) lasts = g_string_new(NULL);
    aperta_level level = aperta_sung_note_level(note);
    double seconds = note->note.span.end_s - note->note.span.start_s;

    words_append_number(lasts, seconds, seconds < 9.995 ? 2 : 1);
    l->level = level;
    l->cells[NO] = g_strdup_printf("%d", note->number);
    l->cells[TIME] = words_clock(note->note.span.start_s);
    l->cells[PITCH] = pitch_cell(note);
    l->cells[LASTS] = tight == TIGHTEST ? NULL : g_strdup(lasts->str);
    l->cells[VIBRATO] = tight >= TIGHTER ? NULL : vibrato_cell(&note->note.vibrato);
    l->cells[F1] = resonance_cell(&note->tract, 0, tight);
    l->cells[F2] = resonance_cell(&note->tract, 1, tight);
    l->cells[TOLD] = told_cell(note);
    l->cells[VOWEL] = vowel_cell(note, tight);
    l->cells[F1_TO_2F0] = distance_cell(note);
    l->cells[LEVEL] = g_strdup(result_length(note->advice) == 0 ? "" : aperta_level_word(level));
    return l;
}

static gboolean is_told(const aperta_result *result)
{
    for (guint i = 0; i < result->notes->len; i++)
        if (result_note_at(result, i)->intended_from == APERTA_INTENDED_TOLD)
            return TRUE;
    return FALSE;
}

static line *heading(int row, tightness tight, gboolean told)
{
    static const char *const words[2][N_COLUMNS] = {
        {"no", "time", "pitch", "lasts", "vibrato", "F1", "F2", "", "vowel", "F1 to", ""},
        {"", "m:s", "cents", "s", "Hz cents", "Hz", "Hz", "", "", "2f0 st", ""},
    };
    line *l = g_new0(line, 1);

    for (int i = 0; i < N_COLUMNS; i++)
        l->cells[i] = g_strdup(words[row][i]);
    for (int i = TOLD; told && row == 1 && i <= VOWEL; i++) {
        g_free(l->cells[i]);
        l->cells[i] = g_strdup(i == TOLD ? "told" : "heard");
    }
    if (tight >= TIGHTER)
        g_clear_pointer(&l->cells[VIBRATO], g_free);
    if (tight == TIGHTEST)
        g_clear_pointer(&l->cells[LASTS], g_free);
    return l;
}

/* Sets all lines, and the width of each column; returns the width of a whole line. */
static int set_lines(const aperta_result *result, tightness tight, GPtrArray *lines, int widths[N_COLUMNS])
{
    gboolean told = is_told(result);
    int total = -1;

    g_ptr_array_set_size(lines, 0);
    g_ptr_array_add(lines, heading(0, tight, told));
    g_ptr_array_add(lines, heading(1, tight, told));
    for (guint i = 0; i < result->notes->len; i++)
        g_ptr_array_add(lines, line_of(result_note_at(result, i), tight));
    for (int c = 0; c < N_COLUMNS; c++) {
        widths[c] = 0;
        for (guint i = 0; i < lines->len; i++) {
            const line *l = g_ptr_array_index(lines, i);
            widths[c] = l->cells[c] != NULL ? MAX(widths[c], text_width(l->cells[c])) : widths[c];
        }
        total += widths[c] > 0 ? widths[c] + 1 : 0;
    }
    return total;
}

static void put_line(text_page *page, const line *l, const int widths[N_COLUMNS], int gap, gboolean is_heading)
{
    for (int c = 0; c < N_COLUMNS; c++) {
        if (widths[c] == 0)
            continue;
        text_ink ink = is_heading ? TEXT_QUIET : c == LEVEL ? text_level_ink(l->level) : TEXT_PLAIN;
        /* the last column stays ragged: no blanks at the end of a line */
        text_put(page, ink, l->cells[c], c == LEVEL ? 0 : widths[c], right_aligned[c]);
        if (c != LEVEL)
            text_put(page, TEXT_PLAIN, "", gap, FALSE);
    }
    while (page->out->len > 0 && page->out->str[page->out->len - 1] == ' ')
        g_string_truncate(page->out, page->out->len - 1);
    g_string_append_c(page->out, '\n');
}

static gboolean any_glides(const aperta_result *result)
{
    for (guint i = 0; i < result->notes->len; i++)
        if (result_note_at(result, i)->tract.glides)
            return TRUE;
    return FALSE;
}

static void put_left_out(text_page *page, const aperta_result *result, tightness tight, int roomy_columns)
{
    const words_left_out what = {
        .lengths = tight == TIGHTEST,
        .vibrato = tight >= TIGHTER,
        .movements = tight == TIGHTEST && any_glides(result),
        .intervals = tight >= TIGHTER,
        .confidence = tight >= TIGHT,
    };
    g_autofree char *sentence = words_table_left_out(&what, roomy_columns);

    if (sentence != NULL)
        text_wrap(page, TEXT_PLAIN, "", 0, sentence);
}

static void put_legend(text_page *page, words_table_note note)
{
    text_wrap(page, TEXT_PLAIN, "", 0, words_table_legend(note));
}

static void legend(text_page *page, const aperta_result *result, tightness tight, int roomy_columns)
{
    if (tight <= TIGHT)
        put_legend(page, WORDS_TABLE_INTERVALS);
    put_left_out(page, result, tight, roomy_columns);
    put_legend(page, WORDS_TABLE_DISTANCE);
    if (tight < TIGHTEST)
        put_legend(page, WORDS_TABLE_MOVES);
    if (is_told(result))
        put_legend(page, WORDS_TABLE_TOLD);
}

void text_notes_table(text_page *page, const aperta_result *result)
{
    g_autoptr(GPtrArray) lines = g_ptr_array_new_with_free_func(line_free);
    int widths[N_COLUMNS];
    tightness tight = ROOMY;
    int roomy_columns = set_lines(result, tight, lines, widths), total = roomy_columns;

    while (total > page->table_columns && tight < TIGHTEST)
        total = set_lines(result, ++tight, lines, widths);
    int gap = total + N_COLUMNS <= page->table_columns ? 2 : 1;
    text_title(page, words_take_heading(WORDS_TAKE_NOTES));
    for (guint i = 0; i < lines->len; i++)
        put_line(page, g_ptr_array_index(lines, i), widths, gap, i < 2);
    g_string_append_c(page->out, '\n');
    legend(page, result, tight, roomy_columns);
}
