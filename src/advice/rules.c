/* rules.c - a rules file as settings and rules, everything in it checked.
 *
 *   [style]              name, title
 *   [settings]           NAME = AMOUNT because REASON (SOURCE)      for all voices
 *   [settings woman]     the same for one voice or group
 *   [rule NAME]          when, level, words, reason, source; aim, unless, unsure and mark if needed
 *
 * All faults of a file are reported at once.
 */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"

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
};

/* The names that a condition of this file may use, and whether one did. */
typedef struct {
    aperta_rules *rules;
    advice_problems *problems;
    GHashTable *used;            /* setting names */
    GHashTable *excused;         /* names whose absence is told already, where they are misspelt */
    const advice_rule *checking; /* the rule whose condition is walked */
} rules_builder;

/* ---- settings -------------------------------------------------------------------------------------------------- */

static const advice_setting *find_setting(const aperta_rules *rules, const char *name, aperta_voice voice)
{
    for (guint i = 0; i < rules->settings->len; i++) {
        const advice_setting *setting = g_ptr_array_index(rules->settings, i);
        if (setting->voice == voice && strcmp(setting->name, name) == 0)
            return setting;
    }
    return NULL;
}

static gboolean is_given_at_all(const aperta_rules *rules, const char *name)
{
    for (guint i = 0; i < rules->settings->len; i++)
        if (strcmp(((const advice_setting *)g_ptr_array_index(rules->settings, i))->name, name) == 0)
            return TRUE;
    return FALSE;
}

const advice_setting *advice_setting_for(const aperta_rules *rules, const char *name, aperta_voice voice)
{
    const advice_setting *setting = find_setting(rules, name, voice);

    if (setting == NULL)
        setting = find_setting(rules, name, aperta_voice_group(voice));
    return setting != NULL ? setting : find_setting(rules, name, APERTA_VOICE_UNKNOWN);
}

static void free_setting(gpointer data)
{
    advice_setting *setting = data;

    g_free(setting->name);
    g_free(setting->text);
    g_free(setting->because);
    g_free(setting);
}

static void check_known_setting(rules_builder *builder, const advice_setting *setting)
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

static void add_setting(rules_builder *builder, const advice_entry *entry, aperta_voice voice)
{
    advice_unit unit;
    double number;
    gsize rest;

    if (!advice_amount_parse(&entry->value, &number, &unit, &rest, builder->problems))
        return;
    const char *because = entry->value.text + rest;
    if (*because != '\0' && !g_str_has_prefix(because, "because ")) {
        advice_problems_add(builder->problems, advice_value_place(&entry->value, rest),
                            "expected \"because\" and a reason, or the end of the value, found \"%s\"", because);
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

static void add_settings(rules_builder *builder, const advice_section *section)
{
    aperta_voice voice = APERTA_VOICE_UNKNOWN;

    if (section->name[0] != '\0' && !aperta_voice_parse(section->name, &voice)) {
        advice_problems_add(builder->problems, section->name_at,
                            "expected a voice (woman, man, child, soprano, mezzo, alto, tenor, baritone, bass) or ']', "
                            "found \"%s\"",
                            section->name);
        return;
    }
    for (guint i = 0; i < section->entries->len; i++)
        add_setting(builder, g_ptr_array_index(section->entries, i), voice);
}

/* A setting must have a value for whoever sings. */
static gboolean given_for_all(const aperta_rules *rules, const char *name, const char **missing)
{
    static const aperta_voice groups[] = {APERTA_VOICE_WOMAN, APERTA_VOICE_MAN, APERTA_VOICE_CHILD};

    for (gsize i = 0; i < G_N_ELEMENTS(groups); i++) {
        *missing = aperta_voice_word(groups[i]);
        if (advice_setting_for(rules, name, groups[i]) == NULL)
            return FALSE;
    }
    return TRUE;
}

/* ---- rules ----------------------------------------------------------------------------------------------------- */

static const char *const level_words[] = {"fine", "watch", "change"};
static const char *const rule_keys[] = {"when",   "level", "aim",    "unless", "words",
                                        "unsure", "mark",  "reason", "source"};
static const char *const needed_keys[] = {"when", "level", "words", "reason", "source"};

const char *aperta_level_word(aperta_level level)
{
    return level_words[level];
}

static void free_rule(gpointer data)
{
    advice_rule *rule = data;

    g_free(rule->name);
    advice_node_free(rule->when);
    advice_node_free(rule->aim);
    g_free(rule->when_text);
    g_free(rule->aim_text);
    g_ptr_array_unref(rule->unless);
    g_free(rule->words);
    g_free(rule->unsure);
    g_free(rule->mark);
    g_free(rule->reason);
    g_free(rule->source);
    g_free(rule);
}

static const advice_entry *find_entry(const advice_section *section, const char *name)
{
    for (guint i = 0; i < section->entries->len; i++) {
        const advice_entry *entry = g_ptr_array_index(section->entries, i);
        if (strcmp(entry->name, name) == 0)
            return entry;
    }
    return NULL;
}

static const advice_rule *find_rule(const aperta_rules *rules, const char *name)
{
    for (guint i = 0; i < rules->rules->len; i++) {
        const advice_rule *rule = g_ptr_array_index(rules->rules, i);
        if (strcmp(rule->name, name) == 0)
            return rule;
    }
    return NULL;
}

static gboolean is_listed(const char *word, const char *const *words, gsize n)
{
    for (gsize i = 0; i < n; i++)
        if (strcmp(word, words[i]) == 0)
            return TRUE;
    return FALSE;
}

static void check_keys(rules_builder *builder, const advice_section *section, const char *const *keys, gsize n)
{
    for (guint i = 0; i < section->entries->len; i++) {
        const advice_entry *entry = g_ptr_array_index(section->entries, i);
        if (is_listed(entry->name, keys, n))
            continue;
        GString *list = g_string_new(keys[0]);
        for (gsize k = 1; k < n; k++)
            g_string_append_printf(list, ", %s", keys[k]);
        g_autofree char *hint = aperta_name_hint(entry->name, keys, n);
        advice_problems_add(builder->problems, entry->at, "expected one of %s, found \"%s\"%s", list->str, entry->name,
                            hint);
        g_string_free(list, TRUE);
    }
}

/* A key that is needed must be there; where it is only misspelt, that was told. */
static void check_needed(rules_builder *builder, const advice_section *section, const char *const *needed, gsize n,
                         const char *where)
{
    for (gsize i = 0; i < n; i++) {
        gboolean there = find_entry(section, needed[i]) != NULL;
        for (guint k = 0; !there && k < section->entries->len; k++) {
            const advice_entry *entry = g_ptr_array_index(section->entries, k);
            there = aperta_name_nearest(entry->name, &needed[i], 1) != NULL;
        }
        if (!there)
            advice_problems_add(builder->problems, section->at, "expected \"%s\" in %s, found none", needed[i], where);
    }
}

static char *entry_text(const advice_section *section, const char *name)
{
    const advice_entry *entry = find_entry(section, name);

    return entry == NULL ? NULL : g_strdup(entry->value.text);
}

static void read_level(rules_builder *builder, const advice_section *section, advice_rule *rule)
{
    const advice_entry *entry = find_entry(section, "level");

    if (entry == NULL)
        return;
    for (gsize i = 0; i < G_N_ELEMENTS(level_words); i++) {
        if (strcmp(entry->value.text, level_words[i]) == 0) {
            rule->level = (aperta_level)i;
            return;
        }
    }
    advice_problems_add(builder->problems, advice_value_place(&entry->value, 0),
                        "expected fine, watch or change, found \"%s\"", entry->value.text);
}

static void read_aim(rules_builder *builder, const advice_section *section, advice_rule *rule)
{
    const advice_entry *entry = find_entry(section, "aim");

    if (entry == NULL)
        return;
    rule->aim = advice_condition_parse(&entry->value, builder->problems);
    if (rule->aim == NULL)
        return;
    if (rule->aim->kind == ADVICE_COMPARE && rule->aim->operation == ADVICE_MORE_EQUAL &&
        rule->aim->quantity.kind >= ADVICE_RESONANCE && rule->aim->quantity.resonance == 0)
        return;
    advice_problems_add(builder->problems, advice_value_place(&entry->value, 0),
                        "expected an aim for F1 with >= (such as f1_to_2f0 >= -3.5 st), found \"%s\"",
                        entry->value.text);
    g_clear_pointer(&rule->aim, advice_node_free);
}

static void read_unless(rules_builder *builder, const advice_section *section, advice_rule *rule)
{
    const advice_entry *entry = find_entry(section, "unless");

    if (entry == NULL)
        return;
    g_auto(GStrv) names = g_strsplit(entry->value.text, ",", -1);
    gsize offset = 0;
    for (char **name = names; *name != NULL; name++) {
        gsize length = strlen(*name);
        gsize blanks = strspn(*name, " \t");
        g_strstrip(*name);
        if (find_rule(builder->rules, *name) == NULL)
            advice_problems_add(builder->problems,
                                advice_value_place(&entry->value, MIN(offset + blanks, strlen(entry->value.text))),
                                "expected the name of a rule that stands above, found \"%s\"", *name);
        else
            g_ptr_array_add(rule->unless, g_strdup(*name));
        offset += length + 1;
    }
}

static void check_rule_name(rules_builder *builder, const advice_section *section)
{
    const char *name = section->name;

    if (name[0] == '\0')
        advice_problems_add(builder->problems, section->name_at, "expected a name behind \"rule\", found none");
    for (const char *at = name; *at != '\0'; at++) {
        if (g_ascii_isalnum(*at) || *at == '-' || *at == '_')
            continue;
        advice_problems_add(builder->problems, section->name_at,
                            "expected a name of letters, digits, - and _, found \"%s\"", name);
        break;
    }
    if (find_rule(builder->rules, name) != NULL)
        advice_problems_add(builder->problems, section->name_at, "expected each rule once, found \"%s\" again", name);
}

/* It stands under a note. */
static void check_mark(rules_builder *builder, const advice_section *section)
{
    const advice_entry *mark = find_entry(section, "mark");

    if (mark != NULL &&
        (strpbrk(mark->value.text, " \t") != NULL || g_utf8_strlen(mark->value.text, -1) > ADVICE_MARK_MAX))
        advice_problems_add(builder->problems, advice_value_place(&mark->value, 0),
                            "expected one word of at most %d letters, found \"%s\"", ADVICE_MARK_MAX, mark->value.text);
}

static void add_rule(rules_builder *builder, const advice_section *section)
{
    advice_rule *rule = g_new0(advice_rule, 1);
    const advice_entry *when = find_entry(section, "when");
    static const char *const spoken_keys[] = {"words", "unsure"};

    check_rule_name(builder, section);
    check_keys(builder, section, rule_keys, G_N_ELEMENTS(rule_keys));
    g_autofree char *where = g_strdup_printf("the rule \"%s\"", section->name);
    check_needed(builder, section, needed_keys, G_N_ELEMENTS(needed_keys), where);
    rule->name = g_strdup(section->name);
    rule->at = section->at;
    rule->unless = g_ptr_array_new_with_free_func(g_free);
    if (when != NULL)
        rule->when = advice_condition_parse(&when->value, builder->problems);
    for (gsize i = 0; i < G_N_ELEMENTS(spoken_keys); i++) {
        const advice_entry *words = find_entry(section, spoken_keys[i]);
        if (words != NULL)
            advice_words_check(&words->value, builder->problems);
    }
    rule->when_text = entry_text(section, "when");
    rule->aim_text = entry_text(section, "aim");
    rule->words = entry_text(section, "words");
    rule->unsure = entry_text(section, "unsure");
    rule->mark = entry_text(section, "mark");
    rule->reason = entry_text(section, "reason");
    rule->source = entry_text(section, "source");
    read_level(builder, section, rule);
    read_aim(builder, section, rule);
    read_unless(builder, section, rule);
    check_mark(builder, section);
    g_ptr_array_add(builder->rules->rules, rule);
}

/* ---- what can be checked only when all is read --------------------------------------------------------------------
 */

static void collect_used(const advice_node *node, void *data)
{
    if (node->kind == ADVICE_COMPARE && node->setting != NULL)
        g_hash_table_add(((rules_builder *)data)->used, node->setting);
}

/* Names of the settings there are. */
static GPtrArray *given_names(const aperta_rules *rules)
{
    GPtrArray *names = g_ptr_array_new();

    for (guint i = 0; i < rules->settings->len; i++)
        g_ptr_array_add(names, ((advice_setting *)g_ptr_array_index(rules->settings, i))->name);
    return names;
}

/* Names that a rule or the shape search asks for in vain. */
static GPtrArray *missing_names(const rules_builder *builder)
{
    GPtrArray *names = g_ptr_array_new();
    GHashTableIter iter;
    gpointer name;
    const char *voice;

    for (gsize i = 0; i < G_N_ELEMENTS(known_settings); i++)
        if (!given_for_all(builder->rules, known_settings[i].name, &voice))
            g_ptr_array_add(names, (gpointer)known_settings[i].name);
    g_hash_table_iter_init(&iter, builder->used);
    while (g_hash_table_iter_next(&iter, &name, NULL))
        if (!given_for_all(builder->rules, name, &voice))
            g_ptr_array_add(names, name);
    return names;
}

static char *hint_among(const char *word, const GPtrArray *names)
{
    return aperta_name_hint(word, (const char *const *)names->pdata, names->len);
}

static void check_limit(rules_builder *builder, const advice_node *node)
{
    const char *missing;
    advice_unit unit = advice_quantity_unit(&node->quantity);

    if (!given_for_all(builder->rules, node->setting, &missing)) {
        g_autoptr(GPtrArray) names = given_names(builder->rules);
        gboolean is_there = is_given_at_all(builder->rules, node->setting); /* for some voices: it is no slip */
        g_autofree char *hint = is_there ? g_strdup("") : hint_among(node->setting, names);
        if (g_hash_table_contains(builder->excused, node->setting))
            return;
        advice_problems_add(
            builder->problems, node->limit_at,
            "expected a setting that is given for every voice, found \"%s\", which is not given for a %s%s",
            node->setting, missing, hint);
        return;
    }
    for (guint i = 0; i < builder->rules->settings->len; i++) {
        const advice_setting *setting = g_ptr_array_index(builder->rules->settings, i);
        if (strcmp(setting->name, node->setting) == 0 && setting->unit != unit)
            advice_problems_add(builder->problems, node->limit_at,
                                "expected %s, found the setting \"%s\" in %s (line %u)", advice_unit_word(unit),
                                setting->name, advice_unit_word(setting->unit), setting->at.line);
    }
}

static void check_node(const advice_node *node, void *data)
{
    rules_builder *builder = data;

    if (node->kind == ADVICE_COMPARE && node->setting != NULL)
        check_limit(builder, node);
    if (node->kind == ADVICE_SHAPE && builder->checking->aim_text == NULL)
        advice_problems_add(builder->problems, builder->checking->at,
                            "expected an \"aim\" in the rule \"%s\", which asks for a shape, found none",
                            builder->checking->name);
}

static void check_search_settings(rules_builder *builder, const advice_rule *rule)
{
    const char *missing;

    for (gsize i = 0; i < G_N_ELEMENTS(known_settings); i++)
        if (known_settings[i].for_search && !given_for_all(builder->rules, known_settings[i].name, &missing) &&
            !g_hash_table_contains(builder->excused, known_settings[i].name))
            advice_problems_add(builder->problems, rule->at,
                                "expected the setting %s for a %s, since this rule has an aim, found none",
                                known_settings[i].name, missing);
}

static void count_limits(const advice_node *node, void *data)
{
    *(guint *)data += node->kind == ADVICE_COMPARE;
}

static void check_rule(rules_builder *builder, const advice_rule *rule)
{
    guint n_limits = 0;

    builder->checking = rule;
    if (rule->when != NULL) {
        advice_node_walk(rule->when, check_node, builder);
        advice_node_walk(rule->when, count_limits, &n_limits);
    }
    if (n_limits > ADVICE_LIMITS_MAX)
        advice_problems_add(builder->problems, rule->at, "expected at most %d comparisons in a rule, found %u",
                            ADVICE_LIMITS_MAX, n_limits);
    if (rule->aim == NULL)
        return;
    advice_node_walk(rule->aim, check_node, builder);
    check_search_settings(builder, rule);
}

/* A setting that nothing uses is likely a misspelt one that is missing elsewhere; told here, it is not told there. */
static void check_used(rules_builder *builder)
{
    for (guint i = 0; i < builder->rules->rules->len; i++) {
        const advice_rule *rule = g_ptr_array_index(builder->rules->rules, i);
        if (rule->when != NULL)
            advice_node_walk(rule->when, collect_used, builder);
        if (rule->aim != NULL)
            advice_node_walk(rule->aim, collect_used, builder);
    }
    g_autoptr(GPtrArray) missing = missing_names(builder);
    for (guint i = 0; i < builder->rules->settings->len; i++) {
        const advice_setting *setting = g_ptr_array_index(builder->rules->settings, i);
        if (g_hash_table_contains(builder->used, setting->name))
            continue;
        const char *meant = aperta_name_nearest(setting->name, (const char *const *)missing->pdata, missing->len);
        g_autofree char *hint = hint_among(setting->name, missing);
        if (meant != NULL)
            g_hash_table_add(builder->excused, (gpointer)meant);
        advice_problems_add(builder->problems, setting->at,
                            "expected a setting that a rule or the shape search uses (f1_ceiling, opening, inward, "
                            "sideways, stretch, jaw_last, speaks_at, change_at), found \"%s\"%s",
                            setting->name, hint);
    }
}

static void read_style(rules_builder *builder, const advice_section *section)
{
    static const char *const keys[] = {"name", "title"};

    check_keys(builder, section, keys, G_N_ELEMENTS(keys));
    check_needed(builder, section, keys, G_N_ELEMENTS(keys), "[style]");
    if (builder->rules->style == NULL) {
        builder->rules->style = entry_text(section, "name");
        builder->rules->title = entry_text(section, "title");
    }
}

static const char *const section_kinds[] = {"style", "settings", "rule"};

static void refuse_section(rules_builder *builder, const advice_section *section)
{
    g_autofree char *hint = aperta_name_hint(section->kind, section_kinds, G_N_ELEMENTS(section_kinds));

    advice_problems_add(builder->problems, section->at,
                        "expected [style], [settings], [settings VOICE] or [rule NAME], found \"[%s%s%s]\"%s",
                        section->kind, section->name[0] == '\0' ? "" : " ", section->name, hint);
}

static void add_section(rules_builder *builder, const advice_section *section)
{
    if (strcmp(section->kind, "style") == 0 && section->name[0] == '\0')
        read_style(builder, section);
    else if (strcmp(section->kind, "settings") == 0)
        add_settings(builder, section);
    else if (strcmp(section->kind, "rule") == 0)
        add_rule(builder, section);
    else
        refuse_section(builder, section);
}

/* A section of that kind, be it misspelt, which is told where it stands. */
static gboolean has_section(GPtrArray *sections, const char *kind)
{
    for (guint i = 0; i < sections->len; i++)
        if (aperta_name_nearest(((advice_section *)g_ptr_array_index(sections, i))->kind, &kind, 1) != NULL)
            return TRUE;
    return FALSE;
}

static void build_rules(aperta_rules *rules, const char *text, advice_problems *problems)
{
    rules_builder builder = {.rules = rules,
                             .problems = problems,
                             .used = g_hash_table_new(g_str_hash, g_str_equal),
                             .excused = g_hash_table_new(g_str_hash, g_str_equal)};
    g_autoptr(GPtrArray) sections = advice_sections_read(text, problems);
    const advice_place top = {1, 1};

    if (!has_section(sections, "style"))
        advice_problems_add(problems, top, "expected a section [style] with name and title, found none");
    if (!has_section(sections, "rule"))
        advice_problems_add(problems, top, "expected a section [rule NAME], found none");
    for (guint i = 0; i < sections->len; i++)
        add_section(&builder, g_ptr_array_index(sections, i));
    check_used(&builder);
    for (guint i = 0; i < rules->rules->len; i++)
        check_rule(&builder, g_ptr_array_index(rules->rules, i));
    g_hash_table_unref(builder.used);
    g_hash_table_unref(builder.excused);
}

/* ---- files ----------------------------------------------------------------------------------------------------- */

static char *find_rules(const char *name, GError **error)
{
    if (strchr(name, '/') != NULL || g_str_has_suffix(name, ".rules"))
        return g_strdup(name);
    g_autofree char *file = g_strconcat(name, ".rules", NULL);
    g_autofree char *path = g_build_filename(aperta_refdata_dir(), "rules", file, NULL);
    if (g_file_test(path, G_FILE_TEST_IS_REGULAR))
        return g_steal_pointer(&path);
    g_auto(GStrv) names = aperta_rules_names(error);
    if (names == NULL)
        return NULL;
    g_autofree char *list = g_strjoinv(", ", names);
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND, "there is no style \"%s\" (there are %s)", name, list);
    return NULL;
}

static char *read_text(const char *path, GError **error)
{
    g_autofree char *text = NULL;
    gsize n;

    if (!g_file_test(path, G_FILE_TEST_EXISTS)) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND, "%s: no such file", path);
        return NULL;
    }
    if (!g_file_test(path, G_FILE_TEST_IS_REGULAR) || !g_file_get_contents(path, &text, &n, NULL)) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_UNREADABLE, "%s: cannot be read as a file", path);
        return NULL;
    }
    if (n > ADVICE_FILE_MAX_BYTES || !g_utf8_validate(text, (gssize)n, NULL)) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT,
                    "%s:1:1: expected some pages of text in UTF-8, found other bytes", path);
        return NULL;
    }
    return g_steal_pointer(&text);
}

aperta_rules *aperta_rules_load(const char *name, GError **error)
{
    g_autofree char *path = find_rules(name, error);
    if (path == NULL)
        return NULL;
    g_autofree char *text = read_text(path, error);
    if (text == NULL)
        return NULL;

    g_autoptr(aperta_rules) rules = g_new0(aperta_rules, 1);
    advice_problems problems;
    rules->file = g_strdup(path);
    rules->settings = g_ptr_array_new_with_free_func(free_setting);
    rules->rules = g_ptr_array_new_with_free_func(free_rule);
    advice_problems_init(&problems, path);
    build_rules(rules, text, &problems);
    gboolean good = !advice_problems_any(&problems);
    if (!good) {
        g_autofree char *list = advice_problems_text(&problems);
        g_set_error_literal(error, APERTA_ERROR, APERTA_ERROR_FORMAT, list);
    }
    advice_problems_clear(&problems);
    return good ? g_steal_pointer(&rules) : NULL;
}

void aperta_rules_free(aperta_rules *rules)
{
    if (rules == NULL)
        return;
    g_free(rules->file);
    g_free(rules->style);
    g_free(rules->title);
    g_ptr_array_unref(rules->settings);
    g_ptr_array_unref(rules->rules);
    g_free(rules);
}

const char *aperta_rules_style(const aperta_rules *rules)
{
    return rules->style;
}

const char *aperta_rules_title(const aperta_rules *rules)
{
    return rules->title;
}

static int by_name(gconstpointer a, gconstpointer b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

char **aperta_rules_names(GError **error)
{
    g_autofree char *folder = g_build_filename(aperta_refdata_dir(), "rules", NULL);
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    if (dir == NULL) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_NOT_FOUND, "%s: the folder of rules cannot be read", folder);
        return NULL;
    }
    g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func(g_free);
    for (const char *file = g_dir_read_name(dir); file != NULL; file = g_dir_read_name(dir))
        if (g_str_has_suffix(file, ".rules"))
            g_ptr_array_add(names, g_strndup(file, strlen(file) - strlen(".rules")));
    g_ptr_array_sort(names, by_name);
    g_ptr_array_add(names, NULL);
    return (char **)g_ptr_array_steal(names, NULL);
}
