/* quantity.c - what a condition may ask about, its name and its unit. */
#include "advice/quantity.h"

#include <string.h>

static const char *const unit_words[] = {"", "Hz", "st", "s", "cents", "Bark", "%"};

const char *advice_unit_word(advice_unit unit)
{
    if (unit == ADVICE_UNIT_PITCH)
        return "a note name";
    return unit == ADVICE_UNIT_NUMBER ? "a number without unit" : unit_words[unit];
}

static const struct {
    const char *word;
    advice_quantity_kind kind;
    advice_unit unit;
} plain_quantities[] = {
    {"pitch", ADVICE_PITCH, ADVICE_UNIT_PITCH},
    {"f0", ADVICE_F0, ADVICE_UNIT_HZ},
    {"duration", ADVICE_DURATION, ADVICE_UNIT_S},
    {"vibrato_rate", ADVICE_VIBRATO_RATE, ADVICE_UNIT_HZ},
    {"vibrato_extent", ADVICE_VIBRATO_EXTENT, ADVICE_UNIT_CENTS},
};

/* "f1", "f1_to_spoken", "f1_to_f0", "f1_to_2f0" .. "f3_to_9f0" */
static gboolean parse_resonance(const char *word, advice_quantity *quantity)
{
    if (word[0] != 'f' || word[1] < '1' || word[1] > '0' + APERTA_N_RESONANCES)
        return FALSE;
    *quantity = (advice_quantity){ADVICE_RESONANCE, word[1] - '1', 0};
    if (word[2] == '\0')
        return TRUE;
    if (!g_str_has_prefix(word + 2, "_to_"))
        return FALSE;
    const char *what = word + 2 + strlen("_to_");
    if (strcmp(what, "spoken") == 0) {
        quantity->kind = ADVICE_RESONANCE_TO_SPOKEN;
        return TRUE;
    }
    quantity->kind = ADVICE_RESONANCE_TO_HARMONIC;
    quantity->harmonic = 1;
    if (what[0] >= '2' && what[0] <= '9')
        quantity->harmonic = *what++ - '0';
    return strcmp(what, "f0") == 0;
}

gboolean advice_quantity_parse(const char *word, advice_quantity *quantity)
{
    for (gsize i = 0; i < G_N_ELEMENTS(plain_quantities); i++) {
        if (strcmp(word, plain_quantities[i].word) == 0) {
            *quantity = (advice_quantity){plain_quantities[i].kind, 0, 0};
            return TRUE;
        }
    }
    return parse_resonance(word, quantity);
}

advice_unit advice_quantity_unit(const advice_quantity *quantity)
{
    for (gsize i = 0; i < G_N_ELEMENTS(plain_quantities); i++)
        if (plain_quantities[i].kind == quantity->kind)
            return plain_quantities[i].unit;
    return quantity->kind == ADVICE_RESONANCE ? ADVICE_UNIT_HZ : ADVICE_UNIT_ST;
}
