/* style-settings.c - the settings of a rules file: their values, and whether every voice has those that the rules ask
 * for. */
#include "advice/builder.h"

#include <string.h>

/* What the shape search asks for when a rule has an aim, and from when on rules speak; a style may have any others of
 * its own. */
static const struct {
    const char *name;
    advice_unit unit;
    gboolean for_search;
    double low, high;
} known_settings[] = {
    {"speaks_at", ADVICE_UNIT_NUMBER, FALSE, 0.01, 1.0}, {"change_at", ADVICE_UNIT_NUMBER, FALSE, 0.01, 1.0},
    {"f1_ceiling", ADVICE_UNIT_HZ, TRUE, 300.0, 2000.0}, {"opening", ADVICE_UNIT_PERCENT, TRUE, 0.0, 100.0},
    {"inward", ADVICE_UNIT_PERCENT, TRUE, 0.0, 100.0},   {"sideways", ADVICE_UNIT_BARK, TRUE, 0.0, 20.0},
    {"stretch", ADVICE_UNIT_ST, FALSE, 0.0, 12.0},       {"jaw_last", ADVICE_UNIT_NUMBER, FALSE, 1.0, 1.0},
    {"short_syllable", ADVICE_UNIT_S, FALSE, 0.0, 10.0},
};

static const aperta_voice groups[ADVICE_N_GROUPS] = {APERTA_VOICE_WOMAN, APERTA_VOICE_MAN, APERTA_VOICE_CHILD};

/* ---- values ---------------------------------------------------------------------------------------------------- */

static const advice_setting *find_setting(const aperta_rules *rules, const char *name, aperta_voice voice)
{
    for (guint i = 0; i < rules->settings->len; i++) {
        const advice_setting *setting = advice_setting_at(rules->settings, i);
        if (setting->voice == voice && strcmp(setting->name, name) == 0)
            return setting;
    }
    return NULL;
}

static gboolean is_given_at_all(const aperta_rules *rules, const char *name)
{
    for (guint i = 0; i < rules->settings->len; i++)
        if (strcmp(advice_setting_at(rules->settings, i)->name, name) == 0)
            return TRUE;
    return FALSE;
}

/* Of the last of its values, where the next one may be missing. */
static advice_place place_given(const aperta_rules *rules, const char *name)
{
    advice_place at = {1, 1};

    for (guint i = 0; i < rules->settings->len; i++) {
        const advice_setting *setting = advice_setting_at(rules->settings, i);
        if (strcmp(setting->name, name) == 0)
            at = setting->at;
    }
    return at;
}

const advice_setting *advice_setting_for(const aperta_rules *rules, const char *name, aperta_voice voice)
{
    const advice_setting *setting = find_setting(rules, name, voice);

    if (setting == NULL)
        setting = find_setting(rules, name, aperta_voice_group(voice));
    return setting != NULL ? setting : find_setting(rules, name, APERTA_VOICE_UNKNOWN);
}

void advice_setting_free(gpointer data)
{
    advice_setting *setting = data;

    g_free(setting->name);
    g_free(setting->text);
    g_free(setting->because);
    g_free(setting);
}

static void check_known_setting(advice_builder *builder, const advice_setting *setting)
{
    for (gsize i = 0; i < G_N_ELEMENTS(known_settings); i++) {
        if (strcmp(setting->name, known_settings[i].name) != 0)
            continue;
        g_hash_table_add(builder->used, setting->name);
        if (setting->unit != known_settings[i].unit)
            advice_problems_add(builder->problems, setting->at, "expected %s in %s, found \"%s\"", setting->name,
                                advice_unit_word(known_settings[i].unit), setting->text);
        else if (setting->number < known_settings[i].low || setting->number > known_settings[i].high)
            advice_problems_add(builder->problems, setting->at, "expected %s between %g and %g, found \"%s\"",
                                setting->name, known_settings[i].low, known_settings[i].high, setting->text);
    }
}

static void add_setting(advice_builder *builder, const advice_entry *entry, aperta_voice voice)
{
    advice_unit unit;
    double number;
    gsize rest;

    if (!advice_amount_parse(&entry->value, &number, &unit, &rest, builder->problems)) {
        g_hash_table_add(builder->excused, entry->name);
        return;
    }
    const char *because = entry->value.text + rest;
    if (*because != '\0' && !g_str_has_prefix(because, "because ")) {
        advice_problems_add(builder->problems, advice_value_place(&entry->value, rest),
                            "expected \"because\" and a reason, or the end of the value, found \"%s\"", because);
        g_hash_table_add(builder->excused, entry->name);
        return;
    }
    advice_setting *setting = g_new0(advice_setting, 1);
    setting->name = g_strdup(entry->name);
    setting->voice = voice;
    setting->number = number;
    setting->unit = unit;
    setting->text = g_strchomp(g_strndup(entry->value.text, rest));
    setting->because = *because == '\0' ? NULL : g_strdup(because + strlen("because "));
    setting->at = entry->at;
    g_ptr_array_add(builder->rules->settings, setting);
    check_known_setting(builder, setting);
}

void advice_settings_excuse(advice_builder *builder, const advice_section *section)
{
    for (guint i = 0; i < section->entries->len; i++)
        g_hash_table_add(builder->excused, advice_entry_at(section->entries, i)->name);
}

void advice_settings_add(advice_builder *builder, const advice_section *section)
{
    aperta_voice voice = APERTA_VOICE_UNKNOWN;

    if (section->name[0] != '\0' && !aperta_voice_parse(section->name, &voice)) {
        advice_problems_add(builder->problems, section->name_at,
                            "expected a voice (woman, man, child, soprano, mezzo, alto, tenor, baritone, bass) or ']', "
                            "found \"%s\"",
                            section->name);
        advice_settings_excuse(builder, section);
        return;
    }
    for (guint i = 0; i < section->entries->len; i++)
        add_setting(builder, g_ptr_array_index(section->entries, i), voice);
}

/* A setting must have a value for whoever sings. */
static gboolean given_for_all(const aperta_rules *rules, const char *name)
{
    for (gsize i = 0; i < ADVICE_N_GROUPS; i++)
        if (advice_setting_for(rules, name, groups[i]) == NULL)
            return FALSE;
    return TRUE;
}

/* ---- what can be checked only when all is read ------------------------------------------------------------------- */

static void collect_used(const advice_node *node, void *data)
{
    if (node->kind == ADVICE_COMPARE && node->setting != NULL)
        g_hash_table_add(((advice_builder *)data)->used, node->setting);
}

/* Names of the settings there are. */
static GPtrArray *given_names(const aperta_rules *rules)
{
    GPtrArray *names = g_ptr_array_new();

    for (guint i = 0; i < rules->settings->len; i++)
        g_ptr_array_add(names, advice_setting_at(rules->settings, i)->name);
    return names;
}

/* Names that a rule or the shape search asks for in vain. */
static GPtrArray *missing_names(const advice_builder *builder)
{
    GPtrArray *names = g_ptr_array_new();
    GHashTableIter iter;
    gpointer name;

    for (gsize i = 0; i < G_N_ELEMENTS(known_settings); i++)
        if (!given_for_all(builder->rules, known_settings[i].name))
            g_ptr_array_add(names, (gpointer)known_settings[i].name);
    g_hash_table_iter_init(&iter, builder->used);
    while (g_hash_table_iter_next(&iter, &name, NULL))
        if (!given_for_all(builder->rules, name))
            g_ptr_array_add(names, name);
    return names;
}

static char *hint_among(const char *word, const GPtrArray *names)
{
    return aperta_name_hint(word, (const char *const *)names->pdata, names->len);
}

/* Each name once. TRUE: it is given for no voice, which is to be told now; where some have it, tell_lacking() does. */
static gboolean is_unknown(advice_builder *builder, const char *name)
{
    if (!g_hash_table_add(builder->excused, (gpointer)name))
        return FALSE;
    if (!is_given_at_all(builder->rules, name))
        return TRUE;
    for (gsize i = 0; i < ADVICE_N_GROUPS; i++)
        if (advice_setting_for(builder->rules, name, groups[i]) == NULL)
            g_ptr_array_add(builder->lacking[i], (gpointer)name);
    return FALSE;
}

static const advice_setting *setting_in_other_unit(const advice_builder *builder, const char *name, advice_unit unit)
{
    for (guint i = 0; i < builder->rules->settings->len; i++) {
        const advice_setting *setting = advice_setting_at(builder->rules->settings, i);
        if (strcmp(setting->name, name) == 0 && setting->unit != unit)
            return setting;
    }
    return NULL;
}

/* A number without unit is at fault itself; of two units either may be. */
static void check_unit(advice_builder *builder, const advice_node *node)
{
    advice_unit unit = advice_quantity_unit(&node->quantity);
    const advice_setting *setting = setting_in_other_unit(builder, node->setting, unit);

    if (setting == NULL || !g_hash_table_add(builder->excused, setting->name))
        return;
    if (setting->unit == ADVICE_UNIT_NUMBER)
        advice_problems_add(builder->problems, setting->at, "expected %s in %s, as line %u compares it, found \"%s\"",
                            setting->name, advice_unit_word(unit), node->limit_at.line, setting->text);
    else
        advice_problems_add(builder->problems, node->limit_at, "expected %s, found the setting \"%s\" in %s (line %u)",
                            advice_unit_word(unit), setting->name, advice_unit_word(setting->unit), setting->at.line);
}

void advice_settings_check_limit(advice_builder *builder, const advice_node *node)
{
    if (given_for_all(builder->rules, node->setting)) {
        check_unit(builder, node);
        return;
    }
    if (!is_unknown(builder, node->setting))
        return;
    g_autoptr(GPtrArray) names = given_names(builder->rules);
    g_autofree char *hint = hint_among(node->setting, names);
    advice_problems_add(builder->problems, node->limit_at,
                        "expected a setting that is given for every voice, found \"%s\", which no [settings] gives%s",
                        node->setting, hint);
}

void advice_settings_check_search(advice_builder *builder, const advice_rule *rule)
{
    g_autoptr(GString) names = g_string_new(NULL);

    for (gsize i = 0; i < G_N_ELEMENTS(known_settings); i++)
        if (known_settings[i].for_search && !given_for_all(builder->rules, known_settings[i].name) &&
            is_unknown(builder, known_settings[i].name))
            g_string_append_printf(names, "%s%s", names->len > 0 ? ", " : "", known_settings[i].name);
    if (names->len > 0)
        advice_problems_add(builder->problems, rule->at,
                            "expected the settings that a rule with an aim needs, found no value of %s", names->str);
}

static void find_used(advice_builder *builder)
{
    for (guint i = 0; i < builder->rules->rules->len; i++) {
        const advice_rule *rule = advice_rule_at(builder->rules->rules, i);
        if (rule->when != NULL)
            advice_node_walk(rule->when, collect_used, builder);
        if (rule->aim != NULL)
            advice_node_walk(rule->aim, collect_used, builder);
    }
}

static void tell_unused(advice_builder *builder, const advice_setting *setting, const char *hint)
{
    advice_problems_add(builder->problems, setting->at,
                        "expected a setting that a rule or the shape search uses (f1_ceiling, opening, inward, "
                        "sideways, stretch, jaw_last, short_syllable, speaks_at, change_at), found \"%s\"%s",
                        setting->name, hint);
}

/* A setting that nothing uses and whose name is nearly that of a missing one is a slip; told here, it is not told
 * there. */
static void check_misspelt(advice_builder *builder)
{
    g_autoptr(GPtrArray) missing = missing_names(builder);

    for (guint i = 0; i < builder->rules->settings->len; i++) {
        const advice_setting *setting = advice_setting_at(builder->rules->settings, i);
        const char *meant = aperta_name_nearest(setting->name, (const char *const *)missing->pdata, missing->len);
        if (meant == NULL || g_hash_table_contains(builder->used, setting->name))
            continue;
        g_autofree char *hint = hint_among(setting->name, missing);
        g_hash_table_add(builder->excused, (gpointer)meant);
        tell_unused(builder, setting, hint);
    }
}

/* Another unused one is told only when all else is right: a fault elsewhere may be why nothing seems to use it. */
static void check_unused(advice_builder *builder)
{
    gboolean faults = advice_problems_any(builder->problems);

    for (guint i = 0; i < builder->rules->settings->len && !faults; i++) {
        const advice_setting *setting = advice_setting_at(builder->rules->settings, i);
        if (!g_hash_table_contains(builder->used, setting->name))
            tell_unused(builder, setting, "");
    }
}

/* One line for each group of voices, however many names it lacks and rules ask for them. */
static void tell_lacking(advice_builder *builder)
{
    for (gsize i = 0; i < ADVICE_N_GROUPS; i++) {
        g_autoptr(GString) names = g_string_new(NULL);
        for (guint k = 0; k < builder->lacking[i]->len; k++)
            g_string_append_printf(names, "%s%s", k > 0 ? ", " : "", (char *)g_ptr_array_index(builder->lacking[i], k));
        if (names->len == 0)
            continue;
        const char *voice = aperta_voice_word(groups[i]);
        advice_problems_add(
            builder->problems, place_given(builder->rules, g_ptr_array_index(builder->lacking[i], 0)),
            "expected a value for every voice, found none for a %s: %s (write [settings %s], or [settings] "
            "for all)",
            voice, names->str, voice);
    }
}

void advice_settings_check_names(advice_builder *builder)
{
    find_used(builder);
    check_misspelt(builder);
}

void advice_settings_check_rest(advice_builder *builder)
{
    tell_lacking(builder);
    check_unused(builder);
}
