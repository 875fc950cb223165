/* placeholder.c - the placeholders of a rule's words, found and checked. src/words says what they stand for. */
#include "advice/placeholder.h"

#include "advice/advice-private.h"

#include <string.h>

/* In the order of the enum. */
static const char *const plain_names[] = {"pitch",  "vowel",   "voice", "shape",       "how",   "steps",
                                          "needed", "ceiling", "turn",  "probability", "meets", "too"};

gboolean advice_placeholder_parse(const char *name, advice_placeholder *placeholder)
{
    for (gsize i = 0; i < G_N_ELEMENTS(plain_names); i++) {
        if (strcmp(name, plain_names[i]) == 0) {
            *placeholder = (advice_placeholder){.what = (advice_telling)i};
            return TRUE;
        }
    }
    if (name[0] >= '2' && name[0] <= '9' && strcmp(name + 1, "f0") == 0) {
        *placeholder = (advice_placeholder){.what = ADVICE_TELL_HARMONIC, .harmonic = name[0] - '0'};
        return TRUE;
    }
    *placeholder = (advice_placeholder){.what = ADVICE_TELL_QUANTITY};
    return advice_quantity_parse(name, &placeholder->quantity);
}

const char *advice_placeholder_find(const char *words, advice_placeholder *placeholder, const char **end)
{
    for (const char *open = strchr(words, '{'); open != NULL; open = strchr(open + 1, '{')) {
        const char *close = strchr(open, '}');
        if (close == NULL)
            return NULL;
        g_autofree char *name = g_strndup(open + 1, (gsize)(close - open - 1));
        if (advice_placeholder_parse(name, placeholder)) {
            *end = close + 1;
            return open;
        }
    }
    return NULL;
}

void advice_placeholders_check(const advice_value *value, advice_problems *problems)
{
    for (const char *open = strchr(value->text, '{'); open != NULL; open = strchr(open + 1, '{')) {
        advice_place at = advice_value_place(value, (gsize)(open - value->text));
        const char *close = strchr(open, '}');
        advice_placeholder placeholder;
        if (close == NULL) {
            advice_problems_add(problems, at, "expected '}' behind '{', found none");
            return;
        }
        g_autofree char *name = g_strndup(open + 1, (gsize)(close - open - 1));
        if (!advice_placeholder_parse(name, &placeholder))
            advice_problems_add(
                problems, at,
                "expected a placeholder such as {pitch}, {vowel}, {shape}, {how}, {needed}, {2f0}, {f1} or "
                "{f1_to_2f0}, found \"{%s}\"",
                name);
    }
}
