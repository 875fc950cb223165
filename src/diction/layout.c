/* layout.c - phones of a word laid onto the syllables of the score.
 *
 * Letters and phones are aligned by dynamic programming, the borders of the score's syllables standing between the
 * letters; each syllable wants one vowel. Where there is none, a glide becomes a vowel ("na-ti-on") or one is added as
 * the rules of the language say ("lu-ne"). Where there are several, the reader (diction.c) sustains one of them.
 */
#include "diction/diction-private.h"
#include "diction/diction-tuning.h"

#define BORDER '-' /* between two syllables in the row of letters */

/* ---- letters ----------------------------------------------------------------------------------------------------- */

static const char *opened(gunichar c)
{
    switch (c) {
    case 0x00e6: /* æ */
        return "ae";
    case 0x0153: /* œ */
        return "oe";
    case 0x00df: /* ß */
        return "ss";
    case 0x00f8: /* ø */
        return "o";
    default:
        return NULL;
    }
}

char *diction_plain_letters(const char *text)
{
    g_autofree char *lower = g_utf8_strdown(text, -1);
    g_autofree char *normal = g_utf8_normalize(lower, -1, G_NORMALIZE_ALL);
    GString *plain = g_string_new(NULL);

    for (const char *at = normal; at != NULL && *at != '\0'; at = g_utf8_next_char(at)) {
        const char *letters = opened(g_utf8_get_char(at));
        if (letters != NULL)
            g_string_append(plain, letters);
        else if (g_ascii_isalpha(*at))
            g_string_append_c(plain, *at);
    }
    return g_string_free(plain, FALSE);
}

#define VOWEL_LETTERS "aeiouyw"

static gboolean is_vowel_letter(char letter)
{
    return letter != '\0' && strchr(VOWEL_LETTERS, letter) != NULL;
}

/* Letters that usually spell a consonant, in any of the languages. */
static const char *letters_of(const char *consonant)
{
    static const char *const spellings[][2] = {
        {"k", "ckqgx"}, {"s", "sczxt"}, {"z", "szx"},  {"ʃ", "scthxg"}, {"tʃ", "cth"}, {"ʒ", "gjsz"},  {"dʒ", "gjd"},
        {"f", "fphv"},  {"v", "vfwb"},  {"θ", "tczh"}, {"ð", "td"},     {"ŋ", "ng"},   {"j", "yjiel"}, {"w", "wuoq"},
        {"ɲ", "ng"},    {"ʎ", "lg"},    {"ɹ", "r"},    {"r", "r"},      {"ʁ", "r"},    {"ɾ", "rtd"},   {"x", "chgjx"},
        {"ç", "chg"},   {"h", "h"},     {"β", "bv"},   {"ɣ", "g"},      {"ɡ", "gx"},   {"ts", "zts"},  {"ʔ", "t"},
        {"pf", "pf"},   {"dz", "z"},    {"ɥ", "u"},    {"ʝ", "yl"},     {"d", "d"},    {"t", "td"},    {"n", "nm"},
        {"m", "mn"},    {"l", "l"},     {"b", "b"},    {"p", "pb"},
    };

    for (gsize i = 0; i < G_N_ELEMENTS(spellings); i++)
        if (strcmp(consonant, spellings[i][0]) == 0)
            return spellings[i][1];
    return "";
}

/* Letters that may spell a phone. */
static const char *letters_for(const diction_phone *phone)
{
    if (!phone->vowel)
        return letters_of(phone->text);
    return phone->off_glide[0] != '\0' ? VOWEL_LETTERS "l" : VOWEL_LETTERS; /* "l": French "soleil" */
}

/* FALSE: this vowel letter seldom spells this vowel. */
static gboolean is_likely(char letter, const char *vowel)
{
    static const char *const spellings[][2] = {
        {"i", "iyej"}, {"ɪ", "iyeu"}, {"u", "uow"},  {"ʊ", "uow"},  {"o", "oauwe"},
        {"ɔ", "oauw"}, {"e", "eaiy"}, {"ɛ", "eaiy"}, {"a", "aoie"}, {"ɑ", "aoe"},
    };

    for (gsize i = 0; i < G_N_ELEMENTS(spellings); i++)
        if (g_str_has_prefix(vowel, spellings[i][0]))
            return strchr(spellings[i][1], letter) != NULL;
    return TRUE;
}

/* ---- alignment --------------------------------------------------------------------------------------------------- */

typedef enum { STEP_START, STEP_PAIR, STEP_LETTER, STEP_PHONE, STEP_BORDER } align_step;

/* Best way to have read `row` letters and `column` phones, with 0, 1 or more vowels in this syllable. */
typedef struct {
    double cost;
    align_step step;
    guint8 vowels_before;
} align_cell;

#define N_COUNTS 3

typedef struct {
    const char *letters; /* "lit-tle" */
    guint n_letters;
    const GArray *phones;
    const char **spellings; /* of each phone */
    align_cell *cells;
} alignment;

static align_cell *cell_at(const alignment *a, guint row, guint column, guint vowels)
{
    return &a->cells[(row * (a->phones->len + 1) + column) * N_COUNTS + vowels];
}

static const diction_phone *phone_at(const alignment *a, guint column)
{
    return &g_array_index(a->phones, diction_phone, column);
}

static gboolean spells(const alignment *a, char letter, guint column)
{
    return strchr(a->spellings[column], letter) != NULL;
}

static void offer(const alignment *a, guint row, guint column, guint vowels, double cost, align_step step,
                  guint vowels_before)
{
    align_cell *cell = cell_at(a, row, column, vowels);

    if (cost < cell->cost)
        *cell = (align_cell){cost, step, (guint8)vowels_before};
}

/* A letter that has no phone of its own. */
static double silent_cost(const alignment *a, guint row, guint column)
{
    char letter = a->letters[row];

    if (column > 0 && spells(a, letter, column - 1))
        return COST_DOUBLE_LETTER;
    if (column < a->phones->len && !phone_at(a, column)->vowel && spells(a, letter, column))
        return COST_DOUBLE_BEFORE;
    return is_vowel_letter(letter) ? COST_SILENT_VOWEL : COST_SILENT_LETTER;
}

static double count_cost(const alignment *a, guint column, guint vowels)
{
    const diction_phone *phone = phone_at(a, column);

    if (!phone->vowel || vowels == 0)
        return 0.0;
    gboolean joined =
        phone->joined || (column > 0 && phone_at(a, column - 1)->vowel && phone_at(a, column - 1)->joined);
    return joined ? COST_JOINED_VOWEL : COST_SECOND_VOWEL;
}

static double pair_cost(const alignment *a, guint row, guint column)
{
    const diction_phone *phone = phone_at(a, column);
    double cost = spells(a, a->letters[row], column) ? 0.0 : COST_OTHER_LETTER;

    if (!phone->vowel && a->letters[row + 1] == BORDER)
        cost += COST_CLOSED;
    if (phone->vowel && !is_vowel_letter(a->letters[row]))
        cost += COST_OTHER_LETTER;
    else if (phone->vowel && !is_likely(a->letters[row], phone->text))
        cost += COST_UNLIKELY_VOWEL;
    return cost;
}

/* A phone that no letter stands for; a consonant rather opens the next syllable than closes this one ("doc-u-ment"). */
static double unwritten_cost(const alignment *a, guint row, guint column)
{
    if (phone_at(a, column)->vowel)
        return COST_UNWRITTEN_VOWEL;
    return COST_UNWRITTEN + (a->letters[row] == BORDER ? COST_CLOSED : 0.0);
}

static void leave_cell(const alignment *a, guint row, guint column, guint vowels)
{
    double cost = cell_at(a, row, column, vowels)->cost;
    gboolean has_phone = column < a->phones->len;
    gboolean vowel = has_phone && phone_at(a, column)->vowel;
    guint after = vowel ? MIN(vowels + 1, N_COUNTS - 1) : vowels;

    if (row < a->n_letters && a->letters[row] == BORDER) {
        offer(a, row + 1, column, 0, cost + (vowels == 0 ? COST_NO_VOWEL : 0.0), STEP_BORDER, vowels);
    } else if (row < a->n_letters) {
        offer(a, row + 1, column, vowels, cost + silent_cost(a, row, column), STEP_LETTER, vowels);
        if (has_phone)
            offer(a, row + 1, column + 1, after, cost + pair_cost(a, row, column) + count_cost(a, column, vowels),
                  STEP_PAIR, vowels);
    }
    if (has_phone)
        offer(a, row, column + 1, after, cost + unwritten_cost(a, row, column) + count_cost(a, column, vowels),
              STEP_PHONE, vowels);
}

static void fill_cells(const alignment *a)
{
    for (guint i = 0; i < (a->n_letters + 1) * (a->phones->len + 1) * N_COUNTS; i++)
        a->cells[i].cost = G_MAXDOUBLE;
    cell_at(a, 0, 0, 0)->cost = 0.0;
    for (guint row = 0; row <= a->n_letters; row++)
        for (guint column = 0; column <= a->phones->len; column++)
            for (guint vowels = 0; vowels < N_COUNTS; vowels++)
                if (cell_at(a, row, column, vowels)->cost < G_MAXDOUBLE)
                    leave_cell(a, row, column, vowels);
}

/* rows[i]: how many letters (and borders) had been read when phone i came. */
static void trace_back(const alignment *a, guint *rows)
{
    guint row = a->n_letters, column = a->phones->len, vowels = 1;
    double none = cell_at(a, row, column, 0)->cost + COST_NO_LAST_VOWEL;

    if (cell_at(a, row, column, 2)->cost < cell_at(a, row, column, 1)->cost)
        vowels = 2;
    if (none < cell_at(a, row, column, vowels)->cost)
        vowels = 0;
    while (row > 0 || column > 0) {
        align_cell cell = *cell_at(a, row, column, vowels);
        if (cell.step == STEP_PAIR || cell.step == STEP_LETTER || cell.step == STEP_BORDER)
            row--;
        if (cell.step == STEP_PAIR || cell.step == STEP_PHONE)
            rows[--column] = row;
        vowels = cell.vowels_before;
    }
}

/* ---- syllables without a vowel ----------------------------------------------------------------------------------- */

/* Letters of the row before the first vowel letter of a syllable that begins at `start`. */
static guint vowel_row(const char *letters, guint start)
{
    guint row = start;

    while (letters[row] != '\0' && letters[row] != BORDER && !is_vowel_letter(letters[row]))
        row++;
    return row;
}

typedef struct {
    const diction_rules *rules;
    GArray *phones;
    GArray *rows; /* guint, beside the phones */
    const char *letters;
} layout;

static gboolean open_glide(layout *l, guint syllable)
{
    for (guint i = 0; i < l->phones->len; i++) {
        diction_phone *phone = &g_array_index(l->phones, diction_phone, i);
        const char *vowel = diction_vowel_of_glide(phone->text);
        if (phone->syllable != syllable || vowel == NULL)
            continue;
        g_strlcpy(phone->text, vowel, PHONE_MAX);
        phone->vowel = phone->added = TRUE;
        phone->remark = (diction_remark){.kind = APERTA_SOUND_REMARK_GLIDE};
        return TRUE;
    }
    return FALSE;
}

/* What closed a diphthong opens the next syllable: French "vieil-le", Italian "gio-ia". at: the vowel that follows. */
static void move_off_glide(layout *l, guint at)
{
    diction_phone *before = at > 0 ? &g_array_index(l->phones, diction_phone, at - 1) : NULL;
    diction_phone glide = {.syllable = g_array_index(l->phones, diction_phone, at).syllable};

    if (before == NULL || before->off_glide[0] == '\0' || diction_glide_of(before->off_glide) == NULL)
        return;
    guint row = g_array_index(l->rows, guint, at - 1);
    g_strlcpy(glide.text, diction_glide_of(before->off_glide), PHONE_MAX);
    before->off_glide[0] = '\0';
    g_array_insert_val(l->phones, at, glide);
    g_array_insert_val(l->rows, at, row);
}

/* English "i-de-a": what closed a diphthong is the vowel of the next syllable. */
static gboolean take_off_glide(diction_phone *phone, diction_phone *before)
{
    if (before->off_glide[0] == '\0' || diction_glide_of(before->off_glide) != NULL)
        return FALSE;
    g_strlcpy(phone->text, before->off_glide, PHONE_MAX);
    before->off_glide[0] = '\0';
    return TRUE;
}

/* Where in the phones a vowel belongs that stands at `row` of the letters. */
static guint place_of(const layout *l, guint syllable, guint row)
{
    guint at = 0;

    for (; at < l->phones->len; at++) {
        guint other = g_array_index(l->phones, diction_phone, at).syllable;
        if (other > syllable || (other == syllable && g_array_index(l->rows, guint, at) >= row))
            break;
    }
    return at;
}

/* "bless-ed": spoken t, but d once there is a vowel before it. */
static void sound_written_d(layout *l, guint at)
{
    if (at >= l->phones->len || l->letters[g_array_index(l->rows, guint, at)] != 'd')
        return;
    diction_phone *consonant = &g_array_index(l->phones, diction_phone, at);
    if (strcmp(consonant->text, "t") == 0)
        g_strlcpy(consonant->text, "d", PHONE_MAX);
}

static void add_vowel(layout *l, guint syllable, guint start, const char *written)
{
    diction_phone phone = {.vowel = TRUE, .added = TRUE, .syllable = syllable};
    guint row = vowel_row(l->letters, start), at = place_of(l, syllable, row);

    if (at == 0 || !take_off_glide(&phone, &g_array_index(l->phones, diction_phone, at - 1))) {
        const char *vowel = diction_rules_added(l->rules, written, &phone.remark);
        if (vowel == NULL)
            return;
        g_strlcpy(phone.text, vowel, PHONE_MAX);
    }
    sound_written_d(l, at);
    g_array_insert_val(l->phones, at, phone);
    g_array_insert_val(l->rows, at, row);
    move_off_glide(l, at);
}

static gboolean has_vowel(const GArray *phones, guint syllable)
{
    for (guint i = 0; i < phones->len; i++) {
        const diction_phone *phone = &g_array_index(phones, diction_phone, i);
        if (phone->vowel && phone->syllable == syllable)
            return TRUE;
    }
    return FALSE;
}

static void fill_syllables(layout *l, char **written)
{
    guint start = 0;

    for (guint syllable = 0; written[syllable] != NULL; syllable++) {
        if (written[syllable][0] != '\0' && !has_vowel(l->phones, syllable) && !open_glide(l, syllable))
            add_vowel(l, syllable, start, written[syllable]);
        start += (guint)strlen(written[syllable]) + 1;
    }
}

/* A glide that is written in the next syllable is sung there. */
static void open_diphthongs(layout *l, char **written)
{
    for (guint i = 0; i + 1 < l->phones->len; i++) {
        const diction_phone *phone = &g_array_index(l->phones, diction_phone, i);
        const diction_phone *next = &g_array_index(l->phones, diction_phone, i + 1);
        const char *letters = written[next->syllable];
        gboolean glide_first = letters[0] != '\0' && strchr("iyj", letters[0]) != NULL && is_vowel_letter(letters[1]);
        if (phone->vowel && next->vowel && next->syllable == phone->syllable + 1 && glide_first)
            move_off_glide(l, i + 1);
    }
}

/* American speech taps the t and d between vowels and stops the t of "button" in the throat; singing keeps what is
 * written. */
static void sound_written_stops(const layout *l)
{
    for (guint i = 0; i < l->phones->len; i++) {
        diction_phone *phone = &g_array_index(l->phones, diction_phone, i);
        char letter = l->letters[g_array_index(l->rows, guint, i)];
        gboolean spoken_light = strcmp(phone->text, "ɾ") == 0 || strcmp(phone->text, "ʔ") == 0;
        if (spoken_light && (letter == 't' || letter == 'd'))
            g_snprintf(phone->text, PHONE_MAX, "%c", letter);
    }
}

/* ---- the whole --------------------------------------------------------------------------------------------------- */

static void set_syllables(const layout *l)
{
    for (guint i = 0; i < l->phones->len; i++) {
        guint syllable = 0;
        for (guint row = 0; row < g_array_index(l->rows, guint, i); row++)
            syllable += l->letters[row] == BORDER;
        g_array_index(l->phones, diction_phone, i).syllable = syllable;
    }
}

/* Each syllable has one vowel of speech, glides apart. */
static gboolean counts_match(const GArray *phones, guint n_syllables)
{
    g_autofree guint *counts = g_new0(guint, n_syllables);

    for (guint i = 0; i < phones->len; i++) {
        const diction_phone *phone = &g_array_index(phones, diction_phone, i);
        gboolean glides = phone->joined && diction_glide_of(phone->text) != NULL;
        if (phone->added)
            return FALSE;
        counts[phone->syllable] += phone->vowel && !glides;
    }
    for (guint i = 0; i < n_syllables; i++)
        if (counts[i] > 1 || !has_vowel(phones, i))
            return FALSE;
    return TRUE;
}

gboolean diction_lay_out(const diction_rules *rules, GArray *phones, const char *const *syllables, guint n_syllables)
{
    g_auto(GStrv) written = g_new0(char *, n_syllables + 1);

    for (guint i = 0; i < n_syllables; i++)
        written[i] = diction_plain_letters(syllables[i]);
    g_autofree char *letters = g_strjoinv("-", written);
    guint n_letters = (guint)strlen(letters);
    g_autofree align_cell *cells = g_new0(align_cell, (n_letters + 1) * (phones->len + 1) * N_COUNTS);
    g_autoptr(GArray) rows = g_array_new(FALSE, TRUE, sizeof(guint));
    g_autofree const char **spellings = g_new0(const char *, phones->len + 1);
    alignment a = {letters, n_letters, phones, spellings, cells};
    layout l = {rules, phones, rows, letters};

    for (guint i = 0; i < phones->len; i++)
        spellings[i] = letters_for(&g_array_index(phones, diction_phone, i));
    g_array_set_size(rows, phones->len);
    fill_cells(&a);
    trace_back(&a, (guint *)(gpointer)rows->data);
    set_syllables(&l);
    sound_written_stops(&l);
    fill_syllables(&l, written);
    open_diphthongs(&l, written);
    return counts_match(phones, n_syllables);
}
