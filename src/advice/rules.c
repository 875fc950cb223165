/* rules.c - a rules file as settings and rules, everything in it checked.
 *
 *   [style]              name, title
 *   [settings]           NAME = AMOUNT because REASON (SOURCE)      for all voices
 *   [settings woman]     the same for one voice or group
 *   [rule NAME]          when, level, words, reason, source; aim, unless, unsure, brief, remedy and mark if needed
 *
 * All faults of a file are reported at once.
 */
#include "advice/advice-tuning.h"
#include "advice/builder.h"
#include "base/user-file.h"

#include <string.h>

/* ---- rules ----------------------------------------------------------------------------------------------------- */

static const char *const level_words[] = {"fine", "watch", "change"};
static const char *const rule_keys[] = {"when",  "level",  "aim",  "unless", "words", "unsure",
                                        "brief", "remedy", "mark", "reason", "source"};
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
    g_free(rule->brief);
    g_free(rule->remedy);
    g_free(rule->mark);
    g_free(rule->reason);
    g_free(rule->source);
    g_free(rule);
}

static const advice_entry *find_entry(const advice_section *section, const char *name)
{
    for (guint i = 0; i < section->entries->len; i++) {
        const advice_entry *entry = advice_entry_at(section->entries, i);
        if (strcmp(entry->name, name) == 0)
            return entry;
    }
    return NULL;
}

static const advice_rule *find_rule(const aperta_rules *rules, const char *name)
{
    for (guint i = 0; i < rules->rules->len; i++) {
        const advice_rule *rule = advice_rule_at(rules->rules, i);
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

static void check_keys(advice_builder *builder, const advice_section *section, const char *const *keys, gsize n)
{
    for (guint i = 0; i < section->entries->len; i++) {
        const advice_entry *entry = advice_entry_at(section->entries, i);
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
static void check_needed(advice_builder *builder, const advice_section *section, const char *const *needed, gsize n,
                         const char *where)
{
    for (gsize i = 0; i < n; i++) {
        gboolean there = find_entry(section, needed[i]) != NULL;
        for (guint k = 0; !there && k < section->entries->len; k++) {
            const advice_entry *entry = advice_entry_at(section->entries, k);
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

static void read_level(advice_builder *builder, const advice_section *section, advice_rule *rule)
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

static void read_aim(advice_builder *builder, const advice_section *section, advice_rule *rule)
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

static void read_unless(advice_builder *builder, const advice_section *section, advice_rule *rule)
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

static void check_rule_name(advice_builder *builder, const advice_section *section)
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
static void check_mark(advice_builder *builder, const advice_section *section)
{
    const advice_entry *mark = find_entry(section, "mark");

    if (mark != NULL &&
        (strpbrk(mark->value.text, " \t") != NULL || g_utf8_strlen(mark->value.text, -1) > ADVICE_MARK_MAX))
        advice_problems_add(builder->problems, advice_value_place(&mark->value, 0),
                            "expected one word of at most %d letters, found \"%s\"", ADVICE_MARK_MAX, mark->value.text);
}

static void add_rule(advice_builder *builder, const advice_section *section)
{
    advice_rule *rule = g_new0(advice_rule, 1);
    const advice_entry *when = find_entry(section, "when");
    static const char *const spoken_keys[] = {"words", "unsure", "brief", "remedy"};

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
            advice_placeholders_check(&words->value, builder->problems);
    }
    rule->when_text = entry_text(section, "when");
    rule->aim_text = entry_text(section, "aim");
    rule->words = entry_text(section, "words");
    rule->unsure = entry_text(section, "unsure");
    rule->brief = entry_text(section, "brief");
    rule->remedy = entry_text(section, "remedy");
    rule->mark = entry_text(section, "mark");
    rule->reason = entry_text(section, "reason");
    rule->source = entry_text(section, "source");
    read_level(builder, section, rule);
    read_aim(builder, section, rule);
    read_unless(builder, section, rule);
    check_mark(builder, section);
    g_ptr_array_add(builder->rules->rules, rule);
}

/* ---- what can be checked only when all is read ------------------------------------------------------------------- */

static void check_node(const advice_node *node, void *data)
{
    advice_builder *builder = data;

    if (node->kind == ADVICE_COMPARE && node->setting != NULL)
        advice_settings_check_limit(builder, node);
    if (node->kind == ADVICE_SHAPE && builder->checking->aim_text == NULL)
        advice_problems_add(builder->problems, builder->checking->at,
                            "expected an \"aim\" in the rule \"%s\", which asks for a shape, found none",
                            builder->checking->name);
}

static void count_limits(const advice_node *node, void *data)
{
    *(guint *)data += node->kind == ADVICE_COMPARE;
}

static void check_rule(advice_builder *builder, const advice_rule *rule)
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
    advice_settings_check_search(builder, rule);
}

static void read_style(advice_builder *builder, const advice_section *section)
{
    static const char *const keys[] = {"name", "title"};

    if (builder->has_style) {
        advice_problems_add(builder->problems, section->at, "expected one section [style], found another");
        return;
    }
    builder->has_style = TRUE;
    check_keys(builder, section, keys, G_N_ELEMENTS(keys));
    check_needed(builder, section, keys, G_N_ELEMENTS(keys), "[style]");
    builder->rules->style = entry_text(section, "name");
    builder->rules->title = entry_text(section, "title");
}

static const char *const section_kinds[] = {"style", "settings", "rule"};

static void refuse_section(advice_builder *builder, const advice_section *section)
{
    g_autofree char *hint = aperta_name_hint(section->kind, section_kinds, G_N_ELEMENTS(section_kinds));

    advice_problems_add(builder->problems, section->at,
                        "expected [style], [settings], [settings VOICE] or [rule NAME], found \"[%s%s%s]\"%s",
                        section->kind, section->name[0] == '\0' ? "" : " ", section->name, hint);
    advice_settings_excuse(builder, section);
}

static void add_section(advice_builder *builder, const advice_section *section)
{
    if (strcmp(section->kind, "style") == 0 && section->name[0] == '\0')
        read_style(builder, section);
    else if (strcmp(section->kind, "settings") == 0)
        advice_settings_add(builder, section);
    else if (strcmp(section->kind, "rule") == 0)
        add_rule(builder, section);
    else
        refuse_section(builder, section);
}

/* A section of that kind, be it misspelt, which is told where it stands. */
static gboolean has_section(GPtrArray *sections, const char *kind)
{
    for (guint i = 0; i < sections->len; i++)
        if (aperta_name_nearest(advice_section_at(sections, i)->kind, &kind, 1) != NULL)
            return TRUE;
    return FALSE;
}

static void build_rules(aperta_rules *rules, const char *text, advice_problems *problems)
{
    advice_builder builder = {.rules = rules,
                              .problems = problems,
                              .used = g_hash_table_new(g_str_hash, g_str_equal),
                              .excused = g_hash_table_new(g_str_hash, g_str_equal)};
    for (gsize i = 0; i < ADVICE_N_GROUPS; i++)
        builder.lacking[i] = g_ptr_array_new();
    g_autoptr(GPtrArray) sections = advice_sections_read(text, problems);
    const advice_place top = {1, 1};

    if (!has_section(sections, "style"))
        advice_problems_add(problems, top, "expected a section [style] with name and title, found none");
    if (!has_section(sections, "rule"))
        advice_problems_add(problems, top, "expected a section [rule NAME], found none");
    for (guint i = 0; i < sections->len; i++)
        add_section(&builder, g_ptr_array_index(sections, i));
    advice_settings_check_names(&builder);
    for (guint i = 0; i < rules->rules->len; i++)
        check_rule(&builder, g_ptr_array_index(rules->rules, i));
    advice_settings_check_rest(&builder);
    for (gsize i = 0; i < ADVICE_N_GROUPS; i++)
        g_ptr_array_unref(builder.lacking[i]);
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

static const base_file_kind rules_file = {.noun = "rules file",
                                          .mb_max = ADVICE_FILE_MB_MAX,
                                          .what_to_do = "name one as in aperta-rules-file(5)",
                                          .kept = TRUE};

aperta_rules *aperta_rules_load(const char *name, GError **error)
{
    g_autofree char *path = find_rules(name, error);
    if (path == NULL)
        return NULL;
    g_autofree char *text = base_text_read(path, &rules_file, error);
    if (text == NULL)
        return NULL;

    g_autoptr(aperta_rules) rules = g_new0(aperta_rules, 1);
    advice_problems problems;
    rules->file = g_strdup(path);
    rules->settings = g_ptr_array_new_with_free_func(advice_setting_free);
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
