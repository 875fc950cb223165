/* finding.c - what a rule says of a note: its words with everything filled in that stands in braces. */
#include "words/finding.h"

#include "advice/facts.h"
#include "result/query.h"
#include "words/words.h"

#include <math.h>
#include <string.h>

/* Chosen by us, no source. Below the first an opening of the jaw is enough in most voices, above the second mostly
 * another vowel is needed (semitones that F1 is to rise); the last as what a rule calls likely and not sure. */
#define WORDS_A_LITTLE_ST 2.0
#define WORDS_MUCH_ST     7.0
#define WORDS_TOO_SURE    0.7

/* ---- numbers --------------------------------------------------------------------------------------------------- */

static char *hz_words(double hz)
{
    g_autofree char *number = words_number(hz, "%.0f");

    return g_strdup_printf("%s Hz", number);
}

/* Between the ends of an interval: "12.1 to 3.0 semitones below", "from 4.9 semitones below to 3.1 above". */
static char *distances_words(double low_st, double high_st)
{
    gboolean below = high_st <= 0.0;
    g_autofree char *low = words_number(fabs(low_st), "%.1f");
    g_autofree char *high = words_number(fabs(high_st), "%.1f");

    if (low_st < 0.0 && high_st > 0.0)
        return g_strdup_printf("from %s semitones below to %s above", low, high);
    return g_strdup_printf("%s to %s semitones %s", low, high, below ? "below" : "above");
}

/* "9.3 semitones below" */
static char *distance_words(double st)
{
    g_autofree char *number = words_number(fabs(st), "%.1f");

    if (strcmp(number, "0.0") == 0)
        return g_strdup("right at");
    if (strcmp(number, "1.0") == 0)
        return g_strdup(st < 0.0 ? "1.0 semitone below" : "1.0 semitone above");
    return g_strdup_printf(st < 0.0 ? "%s semitones below" : "%s semitones above", number);
}

/* "expected near 437 Hz (most speakers 380 to 503)": the interval is that of 90 % of speakers. */
static char *expected_words(const aperta_resonance *what)
{
    g_autofree char *hz = hz_words(what->hz);

    if (!what->has_low || !what->has_high)
        return g_strdup_printf("expected near %s", hz);
    g_autofree char *low = words_number(what->low_hz, "%.0f");
    g_autofree char *high = words_number(what->high_hz, "%.0f");
    return g_strdup_printf("expected near %s (most speakers %s to %s)", hz, low, high);
}

static char *resonance_words(const aperta_resonance *what, gboolean is_expected)
{
    if (!is_expected && aperta_resonance_is_wide(what))
        return g_strdup_printf("somewhere between %.0f and %.0f Hz", what->low_hz, what->high_hz);
    if (what->status == APERTA_MEASURED) {
        g_autofree char *hz = hz_words(what->hz);
        return is_expected ? expected_words(what) : g_strdup_printf("about %s", hz);
    }
    if (what->status == APERTA_BOUNDED && (what->has_high || what->has_low)) {
        g_autofree char *hz = hz_words(what->has_high ? what->high_hz : what->low_hz);
        return g_strdup_printf(what->has_high ? "somewhere below %s" : "somewhere above %s", hz);
    }
    return g_strdup("not known");
}

/* The same of a note: of several notes it is said that the value is of all of them. */
static char *told_resonance_words(const advice_facts *facts, int resonance)
{
    g_autofree char *words = resonance_words(&facts->resonances[resonance], facts->expected);

    if (facts->n_notes < 2)
        return g_steal_pointer(&words);
    return g_strdup_printf("%s (over %d notes together)", words, facts->n_notes);
}

static char *resonance_distance_words(const aperta_resonance *what, double from_hz, gboolean is_expected)
{
    if (from_hz <= 0.0 || what->status == APERTA_UNKNOWN)
        return g_strdup("an unknown distance from");
    if (!is_expected && aperta_resonance_is_wide(what))
        return distances_words(aperta_semitones_between(from_hz, what->low_hz),
                               aperta_semitones_between(from_hz, what->high_hz));
    if (what->status == APERTA_MEASURED)
        return distance_words(aperta_semitones_between(from_hz, what->hz));
    if (!what->has_high && !what->has_low)
        return g_strdup("an unknown distance from");
    double st = aperta_semitones_between(from_hz, what->has_high ? what->high_hz : what->low_hz);
    g_autofree char *distance = distance_words(st);
    if (what->has_high)
        return g_strdup_printf(st <= 0.0 ? "at least %s" : "no more than %s", distance);
    return g_strdup_printf(st >= 0.0 ? "at least %s" : "no more than %s", distance);
}

static char *vibrato_words(const aperta_vibrato *vibrato, double value, const char *format, const char *with_unit)
{
    if (vibrato->status != APERTA_VIBRATO_MEASURED)
        return g_strdup("not known");
    g_autofree char *number = words_number(value, format);
    return g_strdup_printf(with_unit, number);
}

/* "C5", "C5 and C♯5" */
static char *pitch_words(const advice_facts *facts)
{
    if (facts->other_pitch[0] == '\0')
        return g_strdup(facts->pitch);
    return g_strdup_printf("%s and %s", facts->pitch, facts->other_pitch);
}

char *words_quantity(const advice_facts *facts, const advice_quantity *quantity)
{
    const aperta_resonance *what = &facts->resonances[quantity->resonance];

    switch (quantity->kind) {
    case ADVICE_PITCH:
        return pitch_words(facts);
    case ADVICE_F0:
        return hz_words(facts->f0_hz);
    case ADVICE_DURATION: {
        g_autofree char *number = words_number(facts->duration_s, "%.2f");
        return g_strdup_printf("%s s", number);
    }
    case ADVICE_VIBRATO_RATE:
        return vibrato_words(&facts->vibrato, facts->vibrato.rate_hz, "%.1f", "%s Hz");
    case ADVICE_VIBRATO_EXTENT:
        return vibrato_words(&facts->vibrato, facts->vibrato.extent_cents, "%.0f", "%s cents");
    case ADVICE_RESONANCE:
        return told_resonance_words(facts, quantity->resonance);
    default:
        return resonance_distance_words(what, advice_facts_reference_hz(facts, quantity), facts->expected);
    }
}

/* ---- placeholders ---------------------------------------------------------------------------------------------- */

/* IPA with respelling and key word, or "this front vowel" where the name is not told; begins: a sentence. */
static char *vowel_words(const advice_facts *facts, gboolean begins)
{
    g_autofree char *class_told = aperta_vowel_class_words(&facts->vowel_class);

    if (class_told != NULL)
        return g_strdup_printf(begins ? "This %s vowel" : "this %s vowel", class_told);
    return facts->vowel == NULL ? g_strdup(begins ? "This vowel" : "this vowel")
                                : words_vowel_label(facts->vowel, FALSE);
}

/* How the note stands to F1, as sure as it is: the words fit "the note ... F1". */
static const char *meets_words(const advice_facts *facts)
{
    switch (facts->meets) {
    case ADVICE_MEETS_PASSED:
        return facts->expected ? "passes" : "has passed";
    case ADVICE_MEETS_PROBABLY_PASSED:
        return facts->expected ? "probably passes" : "has probably passed";
    case ADVICE_MEETS_PERHAPS_PASSED:
        return "may have passed";
    case ADVICE_MEETS_AT:
        return "stands at";
    default:
        return "comes close to";
    }
}

/* How closed a vowel is for its note. */
typedef enum { TOO_PERHAPS, TOO_A_LITTLE, TOO, TOO_MUCH } too_closed;

/* By how far F1 lies below what the rule aims at. */
static too_closed how_closed(const aperta_finding *finding)
{
    const advice_facts *facts = finding->facts;
    const aperta_resonance *f1 = &facts->resonances[0];

    if (finding->level != APERTA_LEVEL_CHANGE || facts->probability < WORDS_TOO_SURE)
        return TOO_PERHAPS;
    if (facts->needed_hz <= 0.0 || f1->status != APERTA_MEASURED || (!facts->expected && aperta_resonance_is_wide(f1)))
        return TOO;
    double below_st = aperta_semitones_between(f1->hz, facts->needed_hz);
    return below_st < WORDS_A_LITTLE_ST ? TOO_A_LITTLE : below_st < WORDS_MUCH_ST ? TOO : TOO_MUCH;
}

/* These begin a sentence. */
static const char *too_words(const aperta_finding *finding)
{
    static const char *const words[] = {
        [TOO_PERHAPS] = "Perhaps too", [TOO_A_LITTLE] = "A little too", [TOO] = "Too", [TOO_MUCH] = "Much too"};

    return words[how_closed(finding)];
}

/* A shape of the vowel that is sung already is told as an opening of it, not as a change from it to itself. */
static char *shape_words(const aperta_shape *shape)
{
    if (shape == NULL)
        return g_strdup("a more open shape");
    if (shape->vowel == shape->from) {
        g_autofree char *kept = words_vowel_label(shape->vowel, FALSE);
        return g_strdup_printf(shape->jaw_wide ? "%s with the jaw wide" : "%s with the jaw a little wider", kept);
    }
    return words_shape_label(shape, FALSE);
}

/* “oo” with the jaw wide (F1 about 575 Hz) */
static char *step_words(const aperta_shape *step)
{
    return g_strdup_printf(step->jaw_wide ? "“%s” with the jaw wide (F1 about %.0f Hz)" : "“%s” (F1 about %.0f Hz)",
                           step->vowel->respelling, 5.0 * round(step->f1_hz / 5.0));
}

/* One sentence; nothing where the shape is the only step. */
static char *steps_words(const GPtrArray *ladder)
{
    g_autoptr(GPtrArray) steps = g_ptr_array_new_with_free_func(g_free);

    if (ladder == NULL || ladder->len < 2)
        return g_strdup("");
    for (guint i = 0; i < ladder->len; i++)
        g_ptr_array_add(steps, step_words(g_ptr_array_index(ladder, i)));
    g_autofree char *all = words_join(steps, ", ", ", then ");
    return g_strdup_printf("Go there in steps and stop at the first that feels free: %s.", all);
}

/* begins: a sentence. */
static char *placeholder_words(const advice_placeholder *placeholder, const aperta_finding *finding, const char *how,
                               gboolean begins)
{
    const advice_facts *facts = finding->facts;

    switch (placeholder->what) {
    case ADVICE_TELL_PITCH:
        return pitch_words(facts);
    case ADVICE_TELL_VOWEL:
        return vowel_words(facts, begins);
    case ADVICE_TELL_VOICE:
        return g_strdup(aperta_voice_word(facts->voice));
    case ADVICE_TELL_SHAPE:
        return shape_words(finding->shape);
    case ADVICE_TELL_HOW:
        return g_strdup(how);
    case ADVICE_TELL_STEPS:
        return steps_words(finding->ladder);
    case ADVICE_TELL_NEEDED:
        return facts->needed_hz > 0.0 ? hz_words(facts->needed_hz) : g_strdup("a higher value");
    case ADVICE_TELL_CEILING:
        return facts->ceiling_hz > 0.0 ? hz_words(facts->ceiling_hz) : g_strdup("about 1000 Hz");
    case ADVICE_TELL_TURN:
        return g_strdup(facts->turn[0] != '\0' ? facts->turn : "the top of the tuning");
    case ADVICE_TELL_PROBABILITY:
        return words_number(facts->probability, "%.2f");
    case ADVICE_TELL_MEETS:
        return g_strdup(meets_words(facts));
    case ADVICE_TELL_TOO:
        return g_strdup(too_words(finding));
    case ADVICE_TELL_HARMONIC:
        return hz_words(placeholder->harmonic * facts->f0_hz);
    default:
        return words_quantity(facts, &placeholder->quantity);
    }
}

/* Whether what is added next begins a sentence. */
static gboolean begins_sentence(const GString *text)
{
    return text->len == 0 || g_str_has_suffix(text->str, ". ");
}

static const char *hedge_words(aperta_hedge hedge)
{
    switch (hedge) {
    case APERTA_HEDGE_PASSING:
        return "A short unstressed syllable: it may pass as it is. ";
    case APERTA_HEDGE_LIKELY:
        return "This is likely, not sure. ";
    default:
        return "";
    }
}

char *words_finding(const aperta_finding *finding, const char *how)
{
    const char *words = finding->words != NULL ? finding->words : "";
    GString *text = g_string_new(hedge_words(finding->hedge));
    advice_placeholder placeholder;
    const char *open, *end;

    while (finding->facts != NULL && (open = advice_placeholder_find(words, &placeholder, &end)) != NULL) {
        g_string_append_len(text, words, open - words);
        g_autofree char *filled = placeholder_words(&placeholder, finding, how, begins_sentence(text));
        g_string_append(text, filled);
        words = end;
        if (*filled == '\0' && *words == ' ' && g_str_has_suffix(text->str, " "))
            words++; /* one space where there was a placeholder that says nothing */
    }
    g_string_append(text, words);
    return g_string_free(text, FALSE);
}

char *aperta_finding_text(const aperta_finding *finding)
{
    g_autofree char *how = finding->shape != NULL ? aperta_shape_how(finding->shape) : g_strdup("");

    return words_finding(finding, how);
}

gboolean words_same_matter(const aperta_finding *one, const aperta_finding *other)
{
    if (strcmp(one->rule, other->rule) != 0)
        return FALSE;
    return one->facts == NULL || other->facts == NULL || how_closed(one) == how_closed(other);
}

gboolean words_finding_holds_how(const aperta_finding *finding)
{
    advice_placeholder placeholder;
    const char *end = finding->words;

    if (finding->facts == NULL || finding->shape == NULL)
        return FALSE;
    while (advice_placeholder_find(end, &placeholder, &end) != NULL)
        if (placeholder.what == ADVICE_TELL_HOW)
            return TRUE;
    return FALSE;
}

gboolean words_finding_begins_with_pitch(const aperta_finding *finding, const char *pitch)
{
    const advice_facts *facts = finding->facts;
    advice_placeholder first;
    const char *end;

    return facts != NULL && finding->hedge == APERTA_HEDGE_NONE && facts->other_pitch[0] == '\0' &&
           strcmp(facts->pitch, pitch) == 0 && advice_placeholder_find(finding->words, &first, &end) != NULL &&
           first.what == ADVICE_TELL_PITCH;
}

/* ---- two findings told together ---------------------------------------------------------------------------------- */

static gboolean same_resonance(const advice_facts *a, const advice_facts *b, int index)
{
    const aperta_resonance *one = &a->resonances[index], *other = &b->resonances[index];

    return one->status == other->status && one->hz == other->hz && one->has_low == other->has_low &&
           one->has_high == other->has_high && one->low_hz == other->low_hz && one->high_hz == other->high_hz &&
           a->n_notes == b->n_notes && a->expected == b->expected;
}

static gboolean same_quantity(const advice_quantity *quantity, const advice_facts *a, const advice_facts *b)
{
    switch (quantity->kind) {
    case ADVICE_PITCH:
        return strcmp(a->pitch, b->pitch) == 0 && strcmp(a->other_pitch, b->other_pitch) == 0;
    case ADVICE_F0:
        return a->f0_hz == b->f0_hz;
    case ADVICE_DURATION:
        return a->duration_s == b->duration_s;
    case ADVICE_VIBRATO_RATE:
    case ADVICE_VIBRATO_EXTENT:
        return a->vibrato.status == b->vibrato.status && a->vibrato.rate_hz == b->vibrato.rate_hz &&
               a->vibrato.extent_cents == b->vibrato.extent_cents;
    default:
        return same_resonance(a, b, quantity->resonance) &&
               advice_facts_reference_hz(a, quantity) == advice_facts_reference_hz(b, quantity);
    }
}

static gboolean same_shape(const aperta_shape *a, const aperta_shape *b)
{
    if (a == NULL || b == NULL)
        return a == b;
    return a->vowel == b->vowel && a->from == b->from && a->before == b->before && a->jaw_wide == b->jaw_wide &&
           a->jaw == b->jaw && a->tongue == b->tongue && a->lips == b->lips && a->jaw_last == b->jaw_last;
}

static gboolean same_ladder(const GPtrArray *a, const GPtrArray *b)
{
    if (a == NULL || b == NULL || a->len != b->len)
        return a == b;
    for (guint i = 0; i < a->len; i++) {
        const aperta_shape *one = aperta_shape_at(a, i), *other = aperta_shape_at(b, i);
        if (!same_shape(one, other) || one->f1_hz != other->f1_hz)
            return FALSE;
    }
    return TRUE;
}

/* Whether a placeholder stands for the same in both. */
static gboolean stands_for_same(const advice_placeholder *placeholder, const aperta_finding *one,
                                const aperta_finding *other)
{
    const advice_facts *a = one->facts, *b = other->facts;

    switch (placeholder->what) {
    case ADVICE_TELL_PITCH:
        return same_quantity(&(advice_quantity){.kind = ADVICE_PITCH}, a, b);
    case ADVICE_TELL_VOWEL:
        return a->vowel == b->vowel && result_same_class(&a->vowel_class, &b->vowel_class);
    case ADVICE_TELL_VOICE:
        return a->voice == b->voice;
    case ADVICE_TELL_SHAPE:
    case ADVICE_TELL_HOW:
        return same_shape(one->shape, other->shape);
    case ADVICE_TELL_STEPS:
        return same_ladder(one->ladder, other->ladder);
    case ADVICE_TELL_NEEDED:
        return a->needed_hz == b->needed_hz;
    case ADVICE_TELL_CEILING:
        return a->ceiling_hz == b->ceiling_hz;
    case ADVICE_TELL_TURN:
        return strcmp(a->turn, b->turn) == 0;
    case ADVICE_TELL_PROBABILITY:
        return a->probability == b->probability;
    case ADVICE_TELL_MEETS:
        return a->meets == b->meets && a->expected == b->expected;
    case ADVICE_TELL_HARMONIC:
        return a->f0_hz == b->f0_hz;
    default:
        return same_quantity(&placeholder->quantity, a, b);
    }
}

gboolean words_findings_alike(const aperta_finding *one, const aperta_finding *other)
{
    const char *end = one->words;
    advice_placeholder placeholder;

    if (one->hedge != other->hedge || g_strcmp0(one->words, other->words) != 0 ||
        (one->facts == NULL) != (other->facts == NULL))
        return FALSE;
    while (one->facts != NULL && advice_placeholder_find(end, &placeholder, &end) != NULL)
        if (!stands_for_same(&placeholder, one, other))
            return FALSE;
    return TRUE;
}
