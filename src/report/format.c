/* format.c - numbers and names as people read them. */
#include "report-private.h"

#include <math.h>
#include <string.h>

#define SURE_CONFIDENCE   0.8 /* probability among the table's vowels; words chosen by us, no source */
#define LIKELY_CONFIDENCE 0.5
#define WIDE_ST           4.0  /* an interval wider than this from end to end is told by its ends; chosen by us */
#define SAME_AIM          1.03 /* ratio; chosen by us, no source */

void report_append_number(GString *out, double value, int decimals)
{
    char format[8];
    char digits[64];

    if (!isfinite(value))
        return;
    g_snprintf(format, sizeof format, "%%.%df", decimals);
    g_ascii_formatd(digits, sizeof digits, format, value);
    /* a minus before zeros only would look like a measurement */
    g_string_append(out, digits[0] == '-' && strpbrk(digits, "123456789") == NULL ? digits + 1 : digits);
}

char *report_signed(double value, int decimals, gboolean plus)
{
    g_autoptr(GString) digits = g_string_new(NULL);

    report_append_number(digits, value, decimals);
    if (digits->str[0] == '-')
        return g_strconcat("−", digits->str + 1, NULL);
    gboolean zero = strpbrk(digits->str, "123456789") == NULL;
    return g_strconcat(plus && !zero ? "+" : "", digits->str, NULL);
}

char *report_clock(double seconds)
{
    gint64 tenths = (gint64)floor(MAX(seconds, 0.0) * 10.0 + 0.5);
    int hours = (int)(tenths / 36000);
    int minutes = (int)(tenths / 600 % 60);
    int rest = (int)(tenths % 600);

    if (hours > 0)
        return g_strdup_printf("%d:%02d:%02d.%d", hours, minutes, rest / 10, rest % 10);
    return g_strdup_printf("%d:%02d.%d", minutes, rest / 10, rest % 10);
}

char *report_clean(const char *text)
{
    g_autofree char *valid = g_utf8_make_valid(text != NULL ? text : "", -1);
    GString *out = g_string_sized_new(strlen(valid));

    for (const char *at = valid; *at != '\0'; at = g_utf8_next_char(at)) {
        gunichar c = g_utf8_get_char(at);
        if (c == '\n' || c == '\t')
            g_string_append_c(out, ' ');
        else if (g_unichar_iscntrl(c) || c == 0xFFFE || c == 0xFFFF)
            g_string_append(out, "�");
        else
            g_string_append_unichar(out, c);
    }
    return g_string_free(out, FALSE);
}

static char *label(const char *ipa, const char *name, const char *key_word, gboolean brief)
{
    if (brief || key_word == NULL)
        return g_strdup_printf("%s “%s”", ipa, name);
    return g_strdup_printf("%s “%s” (%s)", ipa, name, key_word);
}

char *report_vowel_label(const aperta_vowel *vowel, gboolean brief)
{
    if (vowel == NULL)
        return g_strdup("?");
    return label(vowel->ipa, vowel->respelling, vowel->key_word, brief);
}

char *report_shape_label(const aperta_shape *shape, gboolean brief)
{
    return label(shape->vowel->ipa, shape->name, shape->vowel->key_word, brief);
}

const char *report_confidence_word(double confidence)
{
    if (confidence >= SURE_CONFIDENCE)
        return "sure";
    return confidence >= LIKELY_CONFIDENCE ? "likely" : "unsure";
}

gboolean report_has_other_places(const aperta_resonance *r)
{
    for (int a = 0; r->status == APERTA_MEASURED && a < r->n_alternatives; a++)
        if (r->alternatives[a].weight >= REPORT_ALTERNATIVE_WEIGHT)
            return TRUE;
    return FALSE;
}

static char *measured_words(const aperta_resonance *r)
{
    g_autoptr(GString) words = g_string_new(NULL);

    if (report_is_wide(r) && !report_has_other_places(r))
        return g_strdup_printf("between %.0f and %.0f Hz", r->low_hz, r->high_hz);
    g_string_append_printf(words, "%.0f Hz", r->hz);
    for (int a = 0; a < r->n_alternatives; a++)
        if (r->alternatives[a].weight >= REPORT_ALTERNATIVE_WEIGHT)
            g_string_append_printf(words, " or %.0f Hz", r->alternatives[a].hz);
    g_string_append_printf(words, " (%.0f–%.0f)", r->low_hz, r->high_hz);
    return g_string_free(g_steal_pointer(&words), FALSE);
}

char *report_resonance_words(const aperta_resonance *r)
{
    if (r->status == APERTA_MEASURED)
        return measured_words(r);
    if (r->status == APERTA_BOUNDED && r->has_high)
        return g_strdup_printf("below %.0f Hz", r->high_hz);
    if (r->status == APERTA_BOUNDED && r->has_low)
        return g_strdup_printf("above %.0f Hz", r->low_hz);
    return g_strdup("cannot be told");
}

gboolean report_is_wide(const aperta_resonance *r)
{
    return r->status == APERTA_MEASURED && r->has_low && r->has_high &&
           aperta_semitones_between(r->low_hz, r->high_hz) > WIDE_ST;
}

char *report_reason(const aperta_finding *finding)
{
    return g_strdup_printf("rule %s: %s [%s]", finding->rule,
                           finding->reason != NULL ? finding->reason : "no reason given",
                           finding->source != NULL ? finding->source : "no source given");
}

char *report_hz_range(double low_hz, double high_hz)
{
    if (high_hz < low_hz * SAME_AIM)
        return g_strdup_printf("about %.0f Hz", 10.0 * round(0.05 * (low_hz + high_hz)));
    return g_strdup_printf("about %.0f to %.0f Hz", 10.0 * round(low_hz / 10.0), 10.0 * round(high_hz / 10.0));
}

static int number_of(const GPtrArray *notes, guint index)
{
    return ((const aperta_sung_note *)g_ptr_array_index(notes, index))->number;
}

char *report_number_list(const GPtrArray *notes)
{
    g_autoptr(GPtrArray) parts = g_ptr_array_new_with_free_func(g_free);
    GString *out = g_string_new(NULL);

    for (guint i = 0; i < notes->len;) {
        guint end = i + 1;
        while (end < notes->len && number_of(notes, end) == number_of(notes, end - 1) + 1)
            end++;
        if (end - i < 3)
            end = i + 1;
        g_ptr_array_add(parts, end - i >= 3 ? g_strdup_printf("%d–%d", number_of(notes, i), number_of(notes, end - 1))
                                            : g_strdup_printf("%d", number_of(notes, i)));
        i = end;
    }
    for (guint i = 0; i < parts->len; i++) {
        if (i > 0)
            g_string_append(out, i + 1 == parts->len ? " and " : ", ");
        g_string_append(out, g_ptr_array_index(parts, i));
    }
    return g_string_free(out, FALSE);
}

const aperta_vowel *report_note_vowel(const aperta_sung_note *note)
{
    return aperta_sung_note_told(note);
}

char *report_note_vowel_label(const aperta_sung_note *note, gboolean brief)
{
    const aperta_vowel *vowel = report_note_vowel(note);
    g_autofree char *words = vowel == NULL ? aperta_vowel_class_words(&note->vowel.vowel_class) : NULL;

    if (words != NULL)
        return g_strdup_printf("%s %s vowel", words[0] == 'o' ? "an" : "a", words);
    if (vowel == NULL)
        return g_strdup(note->vowel.heard == NULL ? "vowel not known"
                        : brief                   ? "vowel unsure"
                                                  : "a vowel too unsure to name");
    return report_vowel_label(vowel, brief);
}

gboolean report_note_spoken_of(const aperta_sung_note *note)
{
    return report_length(note->advice) > 0;
}

gboolean report_note_flagged(const aperta_sung_note *note)
{
    return aperta_sung_note_level(note) > APERTA_LEVEL_FINE;
}

const aperta_finding *report_shape_in(const GPtrArray *advice)
{
    /* findings stand with the highest level first */
    for (guint i = 0; i < report_length(advice); i++) {
        const aperta_finding *finding = g_ptr_array_index(advice, i);
        if (finding->shape != NULL)
            return finding;
    }
    return NULL;
}

const aperta_finding *report_note_shape(const aperta_sung_note *note)
{
    return report_shape_in(note->advice);
}

guint report_length(const GPtrArray *array)
{
    return array != NULL ? array->len : 0;
}

const aperta_sung_note *report_note_at(const aperta_result *result, guint index)
{
    return g_ptr_array_index(result->notes, index);
}

gboolean report_warned(const GPtrArray *warnings, const char *code)
{
    for (guint i = 0; i < report_length(warnings); i++)
        if (strcmp(((const aperta_warning *)g_ptr_array_index(warnings, i))->code, code) == 0)
            return TRUE;
    return FALSE;
}

gboolean report_tuning_told(const aperta_result *result)
{
    return result->a4_given || (result->notes->len > 0 && !report_warned(result->warnings, "spoken"));
}
