/* words.c - numbers and names as a person reads them, and the placeholders of a rule's words.
 *
 * {pitch} {vowel} {voice} {shape} {how} {steps} {needed} {ceiling} {turn} {probability} {meets}, {f0} {2f0} .. {9f0},
 * and every quantity that a condition may ask about: {f1}, {f1_to_2f0}, {duration} ...
 */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"

#include <math.h>
#include <string.h>

static const char *const plain_names[] = {"pitch",  "vowel",   "voice", "shape",       "how",  "steps",
                                          "needed", "ceiling", "turn",  "probability", "meets"};

/* "2f0" .. "9f0" */
static gboolean parse_harmonic(const char *name, int *number)
{
    if (name[0] < '2' || name[0] > '9' || strcmp(name + 1, "f0") != 0)
        return FALSE;
    *number = name[0] - '0';
    return TRUE;
}

static gboolean exists(const char *name)
{
    advice_quantity quantity;
    int number;

    for (gsize i = 0; i < G_N_ELEMENTS(plain_names); i++)
        if (strcmp(name, plain_names[i]) == 0)
            return TRUE;
    return parse_harmonic(name, &number) || advice_quantity_parse(name, &quantity);
}

void advice_words_check(const advice_value *value, advice_problems *problems)
{
    for (const char *open = strchr(value->text, '{'); open != NULL; open = strchr(open + 1, '{')) {
        advice_place at = advice_value_place(value, (gsize)(open - value->text));
        const char *close = strchr(open, '}');
        if (close == NULL) {
            advice_problems_add(problems, at, "expected '}' behind '{', found none");
            return;
        }
        g_autofree char *name = g_strndup(open + 1, (gsize)(close - open - 1));
        if (!exists(name))
            advice_problems_add(
                problems, at,
                "expected a placeholder such as {pitch}, {vowel}, {shape}, {how}, {needed}, {2f0}, {f1} or "
                "{f1_to_2f0}, found \"{%s}\"",
                name);
    }
}

/* ---- numbers --------------------------------------------------------------------------------------------------- */

static char *number_words(double value, const char *format)
{
    char digits[G_ASCII_DTOSTR_BUF_SIZE];

    return g_strdup(g_ascii_formatd(digits, sizeof digits, format, value));
}

static char *hz_words(double hz)
{
    g_autofree char *number = number_words(hz, "%.0f");

    return g_strconcat(number, " Hz", NULL);
}

/* Between the ends of an interval: "12.1 to 3.0 semitones below", "from 4.9 semitones below to 3.1 above". */
static char *distances_words(double low_st, double high_st)
{
    gboolean below = high_st <= 0.0;
    g_autofree char *low = number_words(fabs(low_st), "%.1f");
    g_autofree char *high = number_words(fabs(high_st), "%.1f");

    if (low_st < 0.0 && high_st > 0.0)
        return g_strdup_printf("from %s semitones below to %s above", low, high);
    return g_strdup_printf("%s to %s semitones %s", low, high, below ? "below" : "above");
}

/* "9.3 semitones below" */
static char *distance_words(double st)
{
    g_autofree char *number = number_words(fabs(st), "%.1f");

    if (strcmp(number, "0.0") == 0)
        return g_strdup("right at");
    return g_strconcat(number, strcmp(number, "1.0") == 0 ? " semitone " : " semitones ", st < 0.0 ? "below" : "above",
                       NULL);
}

double advice_reference_hz(const advice_quantity *quantity, const advice_case *which)
{
    if (quantity->kind == ADVICE_RESONANCE_TO_HARMONIC)
        return quantity->harmonic * which->situation->f0_hz;
    const aperta_vowel_row *row = aperta_vowel_table_row(which->table, advice_named_vowel(which));
    return row != NULL && row->has[quantity->resonance] ? row->hz[quantity->resonance] : 0.0;
}

gboolean advice_is_wide(const aperta_resonance *what)
{
    return what->status == APERTA_MEASURED && what->has_low && what->has_high &&
           aperta_semitones_between(what->low_hz, what->high_hz) > ADVICE_WIDE_ST;
}

/* "expected near 437 Hz (most speakers 380 to 503)": the interval is that of 90 % of speakers. */
static char *expected_words(const aperta_resonance *what)
{
    g_autofree char *hz = hz_words(what->hz);

    if (!what->has_low || !what->has_high)
        return g_strconcat("expected near ", hz, NULL);
    g_autofree char *low = number_words(what->low_hz, "%.0f");
    g_autofree char *high = number_words(what->high_hz, "%.0f");
    return g_strdup_printf("expected near %s (most speakers %s to %s)", hz, low, high);
}

static char *resonance_words(const aperta_resonance *what, gboolean is_expected)
{
    if (!is_expected && advice_is_wide(what))
        return g_strdup_printf("somewhere between %.0f and %.0f Hz", what->low_hz, what->high_hz);
    if (what->status == APERTA_MEASURED) {
        g_autofree char *hz = hz_words(what->hz);
        return is_expected ? expected_words(what) : g_strconcat("about ", hz, NULL);
    }
    if (what->status == APERTA_BOUNDED && (what->has_high || what->has_low)) {
        g_autofree char *hz = hz_words(what->has_high ? what->high_hz : what->low_hz);
        return g_strconcat(what->has_high ? "somewhere below " : "somewhere above ", hz, NULL);
    }
    return g_strdup("not known");
}

/* The same of a situation: of several notes it is said that the value is of all of them. */
static char *situation_resonance_words(const aperta_situation *situation, int resonance)
{
    g_autofree char *words = resonance_words(&situation->resonances[resonance], situation->expected);

    if (situation->n_notes < 2)
        return g_steal_pointer(&words);
    return g_strdup_printf("%s (over %d notes together)", words, situation->n_notes);
}

static char *resonance_distance_words(const aperta_resonance *what, double from_hz, gboolean is_expected)
{
    if (from_hz <= 0.0 || what->status == APERTA_UNKNOWN)
        return g_strdup("an unknown distance from");
    if (!is_expected && advice_is_wide(what))
        return distances_words(aperta_semitones_between(from_hz, what->low_hz),
                               aperta_semitones_between(from_hz, what->high_hz));
    if (what->status == APERTA_MEASURED)
        return distance_words(aperta_semitones_between(from_hz, what->hz));
    if (!what->has_high && !what->has_low)
        return g_strdup("an unknown distance from");
    double st = aperta_semitones_between(from_hz, what->has_high ? what->high_hz : what->low_hz);
    g_autofree char *distance = distance_words(st);
    if (what->has_high)
        return g_strconcat(st <= 0.0 ? "at least " : "no more than ", distance, NULL);
    return g_strconcat(st >= 0.0 ? "at least " : "no more than ", distance, NULL);
}

static char *vibrato_words(const aperta_vibrato *vibrato, double value, const char *format, const char *unit)
{
    if (vibrato->status != APERTA_VIBRATO_MEASURED)
        return g_strdup("not known");
    g_autofree char *number = number_words(value, format);
    return g_strconcat(number, unit, NULL);
}

static char *pitch_words(const aperta_situation *situation)
{
    char name[APERTA_PITCH_NAME_MAX];

    if (situation->pitch_name != NULL)
        return g_strdup(situation->pitch_name);
    aperta_pitch_spell(situation->midi, situation->key, name);
    return g_strdup(name);
}

char *advice_quantity_words(const advice_quantity *quantity, const advice_case *which)
{
    const aperta_situation *situation = which->situation;
    const aperta_resonance *what = &situation->resonances[quantity->resonance];

    switch (quantity->kind) {
    case ADVICE_PITCH:
        return pitch_words(situation);
    case ADVICE_F0:
        return hz_words(situation->f0_hz);
    case ADVICE_DURATION: {
        g_autofree char *number = number_words(situation->duration_s, "%.2f");
        return g_strconcat(number, " s", NULL);
    }
    case ADVICE_VIBRATO_RATE:
        return vibrato_words(&situation->vibrato, situation->vibrato.rate_hz, "%.1f", " Hz");
    case ADVICE_VIBRATO_EXTENT:
        return vibrato_words(&situation->vibrato, situation->vibrato.extent_cents, "%.0f", " cents");
    case ADVICE_RESONANCE:
        return situation_resonance_words(situation, quantity->resonance);
    default:
        return resonance_distance_words(what, advice_reference_hz(quantity, which), situation->expected);
    }
}

/* ---- placeholders ---------------------------------------------------------------------------------------------- */

/* IPA with respelling and key word: ɛ “eh” (bed) */
static char *vowel_words(const aperta_vowel *vowel)
{
    if (vowel == NULL)
        return g_strdup("this vowel");
    return g_strdup_printf("%s “%s” (%s)", vowel->ipa, vowel->respelling, vowel->key_word);
}

/* "this front vowel" where the name is not told. */
static char *vowel_or_class_words(const advice_case *which)
{
    g_autofree char *told = aperta_vowel_class_words(&which->situation->vowel_class);

    return told != NULL ? g_strdup_printf("this %s vowel", told) : vowel_words(which->situation->vowel);
}

/* Probability that F1 lies below the note itself. */
static double share_below_note(const advice_case *which)
{
    const aperta_situation *situation = which->situation;
    const aperta_resonance *f1 = &situation->resonances[0];
    double limit_hz = situation->f0_hz, share = 0.0;
    advice_cell cells[2];

    if (f1->has_high && f1->high_hz <= limit_hz)
        return 1.0;
    guint n = advice_belief_cells(f1, 0, situation->posterior, &limit_hz, 1, cells);
    for (guint i = 0; i < n; i++)
        share += cells[i].hz < limit_hz ? cells[i].mass : 0.0;
    return share;
}

/* How the note stands to F1, as sure as it is: the words fit "the note ... F1". */
static const char *meets_words(const advice_case *which)
{
    const aperta_situation *situation = which->situation;
    const aperta_resonance *f1 = &situation->resonances[0];
    double share = share_below_note(which);

    if (share >= ADVICE_SURE_AT)
        return situation->expected ? "passes" : "has passed";
    if (share >= (situation->expected ? ADVICE_SPEAKS_AT : ADVICE_PROBABLY_AT))
        return situation->expected ? "probably passes" : "has probably passed";
    if (share >= ADVICE_SPEAKS_AT)
        return "may have passed";
    gboolean near = f1->status == APERTA_MEASURED && fabs(aperta_semitones_between(situation->f0_hz, f1->hz)) < 1.0;
    return near ? "stands at" : "comes close to";
}

/* A shape of the vowel that is sung already is told as an opening of it, not as a change from it to itself. */
static char *shape_words(const aperta_shape *shape, const aperta_vowel *vowel)
{
    if (shape == NULL)
        return g_strdup("a more open shape");
    if (shape->vowel == vowel) {
        g_autofree char *kept = vowel_words(vowel);
        return g_strdup_printf("%s with the jaw %s", kept, shape->jaw_wide ? "wide" : "a little wider");
    }
    return g_strdup_printf("%s “%s” (%s)", shape->vowel->ipa, shape->name, shape->vowel->key_word);
}

/* “oo” with the jaw wide (F1 about 575 Hz) */
static char *step_words(const aperta_shape *step)
{
    const aperta_vowel *vowel = step->vowel;

    return g_strdup_printf("“%s”%s (F1 about %.0f Hz)", vowel->respelling, step->jaw_wide ? " with the jaw wide" : "",
                           5.0 * round(step->f1_hz / 5.0));
}

/* One sentence; nothing where the shape is the only step. */
static char *steps_words(const advice_case *which)
{
    GString *text = g_string_new("Go there in steps and stop at the first that feels free: ");

    if (which->ladder == NULL || which->ladder->len < 2) {
        g_string_assign(text, "");
        return g_string_free(text, FALSE);
    }
    for (guint i = 0; i < which->ladder->len; i++) {
        g_autofree char *step = step_words(g_ptr_array_index(which->ladder, i));
        g_string_append_printf(text, "%s%s", i == 0 ? "" : i + 1 == which->ladder->len ? ", then " : ", ", step);
    }
    g_string_append_c(text, '.');
    return g_string_free(text, FALSE);
}

/* The pitch up to which the style opens vowels. */
static char *turn_words(const advice_case *which)
{
    const advice_setting *turn = advice_setting_for(which->rules, "tuning_top", which->voice);
    char name[APERTA_PITCH_NAME_MAX];

    if (turn == NULL || turn->unit != ADVICE_UNIT_PITCH)
        return g_strdup("the top of the tuning");
    aperta_pitch_spell((int)turn->number, which->situation->key, name);
    return g_strdup(name);
}

static char *needed_words(const advice_case *which)
{
    double hz;

    if (which->aim == NULL || !advice_limit_hz(which->aim, which, &hz))
        return g_strdup("a higher value");
    return hz_words(hz);
}

static char *ceiling_words(const advice_case *which)
{
    const advice_setting *ceiling = advice_setting_for(which->rules, "f1_ceiling", which->voice);

    return ceiling == NULL ? g_strdup("about 1000 Hz") : hz_words(ceiling->number);
}

static char *placeholder_words(const char *name, const advice_case *which)
{
    advice_quantity quantity;
    int harmonic;

    if (strcmp(name, "vowel") == 0)
        return vowel_or_class_words(which);
    if (strcmp(name, "voice") == 0)
        return g_strdup(aperta_voice_word(which->voice));
    if (strcmp(name, "shape") == 0)
        return shape_words(which->shape, advice_named_vowel(which));
    if (strcmp(name, "how") == 0)
        return g_strdup(which->shape == NULL ? "" : which->shape->how);
    if (strcmp(name, "steps") == 0)
        return steps_words(which);
    if (strcmp(name, "turn") == 0)
        return turn_words(which);
    if (strcmp(name, "needed") == 0)
        return needed_words(which);
    if (strcmp(name, "ceiling") == 0)
        return ceiling_words(which);
    if (strcmp(name, "probability") == 0)
        return number_words(which->probability, "%.2f");
    if (strcmp(name, "meets") == 0)
        return g_strdup(meets_words(which));
    if (parse_harmonic(name, &harmonic))
        return hz_words(harmonic * which->situation->f0_hz);
    return advice_quantity_parse(name, &quantity) ? advice_quantity_words(&quantity, which) : g_strdup("");
}

/* Whether what is added next begins a sentence. */
static gboolean begins_sentence(const GString *text)
{
    return text->len == 0 || g_str_has_suffix(text->str, ". ");
}

char *advice_words_fill(const char *words, const advice_case *which)
{
    GString *text = g_string_new(NULL);

    while (*words != '\0') {
        const char *open = strchr(words, '{');
        const char *close = open == NULL ? NULL : strchr(open, '}');
        if (close == NULL)
            break;
        g_autofree char *name = g_strndup(open + 1, (gsize)(close - open - 1));
        g_autofree char *filled = placeholder_words(name, which);
        g_string_append_len(text, words, open - words);
        if (begins_sentence(text) && g_str_has_prefix(filled, "this "))
            filled[0] = 'T';
        g_string_append(text, filled);
        words = close + 1;
        if (*filled == '\0' && *words == ' ' && g_str_has_suffix(text->str, " "))
            words++; /* one space where there was a placeholder that says nothing */
    }
    g_string_append(text, words);
    return g_strchomp(g_string_free(text, FALSE));
}
