/* format.c - numbers and names as people read them. */
#include "words/words.h"

#include "result/query.h"

#include <math.h>
#include <string.h>

#define SAME_AIM 1.03 /* ratio; chosen by us, no source */

char *words_join(const GPtrArray *parts, const char *between, const char *last)
{
    GString *list = g_string_new(NULL);

    for (guint i = 0; i < parts->len; i++) {
        if (i > 0)
            g_string_append(list, i + 1 < parts->len ? between : last);
        g_string_append(list, g_ptr_array_index(parts, i));
    }
    return g_string_free(list, FALSE);
}

char *words_number(double value, const char *format)
{
    char digits[G_ASCII_DTOSTR_BUF_SIZE];

    return g_strdup(g_ascii_formatd(digits, sizeof digits, format, value));
}

void words_append_number(GString *out, double value, int decimals)
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

char *words_signed(double value, int decimals, gboolean plus)
{
    g_autoptr(GString) digits = g_string_new(NULL);

    words_append_number(digits, value, decimals);
    if (digits->str[0] == '-')
        return g_strdup_printf("−%s", digits->str + 1);
    gboolean zero = strpbrk(digits->str, "123456789") == NULL;
    return g_strdup_printf(plus && !zero ? "+%s" : "%s", digits->str);
}

char *words_clock(double seconds)
{
    gint64 tenths = (gint64)floor(MAX(seconds, 0.0) * 10.0 + 0.5);
    int hours = (int)(tenths / 36000);
    int minutes = (int)(tenths / 600 % 60);
    int rest = (int)(tenths % 600);

    if (hours > 0)
        return g_strdup_printf("%d:%02d:%02d.%d", hours, minutes, rest / 10, rest % 10);
    return g_strdup_printf("%d:%02d.%d", minutes, rest / 10, rest % 10);
}

static char *label(const char *ipa, const char *name, const char *key_word, gboolean brief)
{
    if (brief || key_word == NULL)
        return g_strdup_printf("%s “%s”", ipa, name);
    return g_strdup_printf("%s “%s” (%s)", ipa, name, key_word);
}

char *words_vowel_label(const aperta_vowel *vowel, gboolean brief)
{
    if (vowel == NULL)
        return g_strdup("?");
    return label(vowel->ipa, vowel->respelling, vowel->key_word, brief);
}

char *words_shape_label(const aperta_shape *shape, gboolean brief)
{
    g_autofree char *name = aperta_shape_name(shape);

    return label(shape->vowel->ipa, name, shape->vowel->key_word, brief);
}

const char *words_confidence_word(double confidence)
{
    static const char *const words[] = {"unsure", "likely", "sure"};

    return words[result_confidence_of(confidence)];
}

static char *measured_words(const aperta_resonance *r)
{
    g_autoptr(GPtrArray) places = g_ptr_array_new_with_free_func(g_free);

    if (aperta_resonance_is_wide(r) && !result_has_other_places(r))
        return g_strdup_printf("between %.0f and %.0f Hz", r->low_hz, r->high_hz);
    g_ptr_array_add(places, g_strdup_printf("%.0f Hz", r->hz));
    for (int a = 0; a < r->n_alternatives; a++)
        if (r->alternatives[a].weight >= RESULT_ALTERNATIVE_WEIGHT)
            g_ptr_array_add(places, g_strdup_printf("%.0f Hz", r->alternatives[a].hz));
    g_autofree char *all = words_join(places, " or ", " or ");
    return g_strdup_printf("%s (%.0f–%.0f)", all, r->low_hz, r->high_hz);
}

char *words_resonance(const aperta_resonance *r)
{
    if (r->status == APERTA_MEASURED)
        return measured_words(r);
    if (r->status == APERTA_BOUNDED && r->has_high)
        return g_strdup_printf("below %.0f Hz", r->high_hz);
    if (r->status == APERTA_BOUNDED && r->has_low)
        return g_strdup_printf("above %.0f Hz", r->low_hz);
    return g_strdup("cannot be told");
}

static char *reason_of(const aperta_finding *finding)
{
    return g_strdup_printf("rule %s: %s [%s]", finding->rule,
                           finding->reason != NULL ? finding->reason : "no reason given",
                           finding->source != NULL ? finding->source : "no source given");
}

GPtrArray *words_reasons(const GPtrArray *findings)
{
    GPtrArray *reasons = g_ptr_array_new_with_free_func(g_free);
    g_autoptr(GHashTable) told = g_hash_table_new(g_str_hash, g_str_equal);

    for (guint i = 0; i < findings->len; i++) {
        const aperta_finding *finding = aperta_finding_at(findings, i);
        if (g_hash_table_add(told, finding->rule))
            g_ptr_array_add(reasons, reason_of(finding));
    }
    return reasons;
}

char *words_hz_range(double low_hz, double high_hz)
{
    if (high_hz < low_hz * SAME_AIM)
        return g_strdup_printf("about %.0f Hz", 10.0 * round(0.05 * (low_hz + high_hz)));
    return g_strdup_printf("about %.0f to %.0f Hz", 10.0 * round(low_hz / 10.0), 10.0 * round(high_hz / 10.0));
}

static int number_of(const GPtrArray *notes, guint index)
{
    return aperta_sung_note_at(notes, index)->number;
}

char *words_number_list(const GPtrArray *notes)
{
    g_autoptr(GPtrArray) parts = g_ptr_array_new_with_free_func(g_free);

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
    return words_join(parts, ", ", " and ");
}

char *aperta_vowel_class_words(const aperta_vowel_class *vowel_class)
{
    const char *height = aperta_height_word(vowel_class->height), *place = aperta_place_word(vowel_class->place);

    if (!vowel_class->known)
        return NULL;
    if (vowel_class->has_height && vowel_class->has_place)
        return g_strdup_printf("%s %s", height, place);
    return g_strdup(vowel_class->has_height ? height : place);
}

char *words_class_label(const aperta_vowel_class *vowel_class)
{
    g_autofree char *words = aperta_vowel_class_words(vowel_class);

    return g_strdup_printf(words[0] == 'o' ? "an %s vowel" : "a %s vowel", words);
}

char *words_note_vowel_label(const aperta_sung_note *note, gboolean brief)
{
    const aperta_vowel *vowel = aperta_sung_note_told(note);

    if (vowel == NULL && note->vowel.vowel_class.known)
        return words_class_label(&note->vowel.vowel_class);
    if (vowel == NULL)
        return g_strdup(note->vowel.heard == NULL ? "vowel not known"
                        : brief                   ? "vowel unsure"
                                                  : "a vowel too unsure to name");
    return words_vowel_label(vowel, brief);
}

static void fact_clear(gpointer data)
{
    g_free(((words_fact *)data)->text);
}

GArray *words_facts_new(void)
{
    GArray *facts = g_array_new(FALSE, FALSE, sizeof(words_fact));

    g_array_set_clear_func(facts, fact_clear);
    return facts;
}

void words_facts_add(GArray *facts, const char *label, char *text)
{
    words_fact fact = {label, text};

    g_array_append_val(facts, fact);
}
