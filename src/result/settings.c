/* settings.c - the style, the table and the voice that a take or a sheet is judged by. */
#include "result/result-private.h"

aperta_rules *result_load_settings(aperta_settings *settings, const char *style, const char *table, aperta_voice voice,
                                   GError **error)
{
    g_autoptr(aperta_rules) rules = aperta_rules_load(style != NULL ? style : "belt", error);

    if (rules == NULL)
        return NULL;
    settings->style = g_strdup(aperta_rules_style(rules));
    settings->rules_title = g_strdup(aperta_rules_title(rules));
    if (table != NULL && (settings->table = aperta_vowel_table_load(table, error)) == NULL)
        return NULL;
    settings->voice = voice == APERTA_VOICE_UNKNOWN && table != NULL ? settings->table->voice : voice;
    settings->voice_guessed = settings->voice == APERTA_VOICE_UNKNOWN;
    return g_steal_pointer(&rules);
}

gboolean result_choose_table(aperta_settings *settings, GError **error)
{
    if (settings->table == NULL)
        settings->table = aperta_vowel_table_load(aperta_vowel_table_for_voice(settings->voice), error);
    return settings->table != NULL;
}

void result_settings_clear(aperta_settings *settings)
{
    g_clear_pointer(&settings->style, g_free);
    g_clear_pointer(&settings->rules_title, g_free);
    g_clear_pointer(&settings->table, aperta_vowel_table_free);
}
