/* describe.c - a style's settings and rules as text, with their reasons and sources. */
#include "advice/advice-private.h"

#include <string.h>

static void describe_settings(GString *text, const aperta_rules *rules)
{
    g_string_append(text, "\nSettings\n");
    for (guint i = 0; i < rules->settings->len; i++) {
        const advice_setting *setting = advice_setting_at(rules->settings, i);
        g_string_append_printf(text, "  %s = %s (%s)\n", setting->name, setting->text,
                               setting->voice == APERTA_VOICE_UNKNOWN ? "all voices"
                                                                      : aperta_voice_word(setting->voice));
        g_string_append_printf(text, "    %s\n", setting->because != NULL ? setting->because : "no reason given");
    }
}

static void describe_line(GString *text, const char *label, const char *value)
{
    g_string_append_printf(text, "  %-7s %s\n", label, value);
}

static void describe_rule(GString *text, const advice_rule *rule)
{
    g_string_append_printf(text, "\nRule %s: %s\n", rule->name, aperta_level_word(rule->level));
    describe_line(text, "when", rule->when_text);
    if (rule->unless->len > 0) {
        GString *names = g_string_new(NULL);
        for (guint i = 0; i < rule->unless->len; i++)
            g_string_append_printf(names, "%s%s", i > 0 ? ", " : "", (char *)g_ptr_array_index(rule->unless, i));
        describe_line(text, "unless", names->str);
        g_string_free(names, TRUE);
    }
    if (rule->aim_text != NULL)
        describe_line(text, "aim", rule->aim_text);
    describe_line(text, "words", rule->words);
    if (rule->unsure != NULL)
        describe_line(text, "unsure", rule->unsure);
    if (rule->brief != NULL)
        describe_line(text, "brief", rule->brief);
    if (rule->remedy != NULL)
        describe_line(text, "remedy", rule->remedy);
    if (rule->mark != NULL)
        describe_line(text, "mark", rule->mark);
    describe_line(text, "reason", rule->reason);
    describe_line(text, "source", rule->source);
}

char *aperta_rules_describe(const aperta_rules *rules)
{
    GString *text = g_string_new(NULL);

    g_string_append_printf(text, "%s (%s)\nfrom %s\n", rules->title, rules->style, rules->file);
    if (rules->settings->len > 0)
        describe_settings(text, rules);
    for (guint i = 0; i < rules->rules->len; i++)
        describe_rule(text, g_ptr_array_index(rules->rules, i));
    return g_string_free(text, FALSE);
}
