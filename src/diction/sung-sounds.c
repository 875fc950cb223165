/* sung-sounds.c - what singing does differently from speech (refdata/diction/sung.tsv), and the reference vowel each
 * sung vowel is judged as (refdata/diction/judged.tsv). Both tables can be read and edited without this code. */
#include "diction/diction-private.h"

typedef enum { WHERE_ANY, WHERE_STRESSED, WHERE_UNSTRESSED, WHERE_FINAL, WHERE_ADDED } rule_where;

static const char *const where_words[] = {"any", "stressed", "unstressed", "final", "added"};

typedef struct {
    rule_where where;
    char *spoken; /* with its length mark and off-glide; of an added vowel: letters its syllable ends with */
    char vowel[PHONE_MAX];
    char off_glide[PHONE_MAX];
    char *remark; /* NULL: none */
} sung_rule;

struct diction_rules {
    const char *language;
    GPtrArray *sung;    /* sung_rule */
    GHashTable *judged; /* char * → char * */
};

static void sung_rule_free(sung_rule *rule)
{
    g_free(rule->spoken);
    g_free(rule->remark);
    g_free(rule);
}

/* "en, de": "en" means all its regions, "*" every language. */
static gboolean means_language(const char *list, const char *language)
{
    g_auto(GStrv) tags = g_strsplit_set(list, ", ", -1);

    for (char **tag = tags; *tag != NULL; tag++) {
        gsize n = strlen(*tag);
        if (strcmp(*tag, "*") == 0 ||
            (n > 0 && strncmp(*tag, language, n) == 0 && (language[n] == '\0' || language[n] == '-')))
            return TRUE;
    }
    return FALSE;
}

static const char *field_or_null(char **fields, guint n_fields, guint at)
{
    return at < n_fields && fields[at][0] != '\0' ? fields[at] : NULL;
}

static gboolean fail_row(const char *place, const char *expected, const char *found, GError **error)
{
    g_set_error(error, APERTA_ERROR, APERTA_ERROR_FORMAT, "%s: expected %s, found \"%s\"", place, expected, found);
    return FALSE;
}

/* "oʊ" → "o", "ʊ" */
static void split_sound(const char *sound, char vowel[PHONE_MAX], char off_glide[PHONE_MAX])
{
    const char *end = sound[0] == '\0' ? sound : g_utf8_next_char(sound);

    while (*end != '\0' && !diction_is_vowel(end))
        end = g_utf8_next_char(end);
    g_autofree char *first = g_strndup(sound, (gsize)(end - sound));
    g_strlcpy(vowel, first, PHONE_MAX);
    g_strlcpy(off_glide, end, PHONE_MAX);
}

static gboolean read_sung(char **fields, guint n_fields, const char *place, gpointer data, GError **error)
{
    diction_rules *rules = data;
    guint where = 0;

    if (n_fields < 4)
        return fail_row(place, "languages, where, spoken, sung, remark, source", fields[0], error);
    while (where < G_N_ELEMENTS(where_words) && strcmp(fields[1], where_words[where]) != 0)
        where++;
    if (where == G_N_ELEMENTS(where_words))
        return fail_row(place, "any, stressed, unstressed, final or added", fields[1], error);
    if (!means_language(fields[0], rules->language))
        return TRUE;
    sung_rule *rule = g_new0(sung_rule, 1);
    rule->where = (rule_where)where;
    rule->spoken = g_strdup(fields[2]);
    rule->remark = g_strdup(field_or_null(fields, n_fields, 4));
    split_sound(fields[3], rule->vowel, rule->off_glide);
    g_ptr_array_add(rules->sung, rule);
    return TRUE;
}

static gboolean read_judged(char **fields, guint n_fields, const char *place, gpointer data, GError **error)
{
    diction_rules *rules = data;

    if (n_fields < 3)
        return fail_row(place, "languages, vowel, judged as, why", fields[0], error);
    if (means_language(fields[0], rules->language))
        g_hash_table_insert(rules->judged, g_strdup(fields[1]), g_strdup(fields[2]));
    return TRUE;
}

diction_rules *diction_rules_read(const char *language, GError **error)
{
    g_autofree char *sung_path = diction_refdata_path("sung.tsv");
    g_autofree char *judged_path = diction_refdata_path("judged.tsv");
    diction_rules *rules = g_new0(diction_rules, 1);

    rules->language = language;
    rules->sung = g_ptr_array_new_with_free_func((GDestroyNotify)sung_rule_free);
    rules->judged = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    if (diction_table_read(sung_path, read_sung, rules, error) &&
        diction_table_read(judged_path, read_judged, rules, error))
        return rules;
    diction_rules_free(rules);
    return NULL;
}

void diction_rules_free(diction_rules *rules)
{
    if (rules == NULL)
        return;
    g_ptr_array_unref(rules->sung);
    g_hash_table_unref(rules->judged);
    g_free(rules);
}

/* ---- use --------------------------------------------------------------------------------------------------------- */

static gboolean rule_fits(const sung_rule *rule, const diction_phone *phone, gboolean final)
{
    char spoken[3 * PHONE_MAX];

    if (rule->where == WHERE_ADDED || (rule->where == WHERE_FINAL && !final) ||
        (rule->where == WHERE_STRESSED && phone->stress == STRESS_NONE) ||
        (rule->where == WHERE_UNSTRESSED && phone->stress != STRESS_NONE))
        return FALSE;
    g_snprintf(spoken, sizeof spoken, "%s%s%s", phone->text, phone->off_glide, phone->is_long ? "ː" : "");
    return strcmp(spoken, rule->spoken) == 0;
}

void diction_rules_apply(const diction_rules *rules, GArray *phones)
{
    for (guint i = 0; i < phones->len; i++) {
        diction_phone *phone = &g_array_index(phones, diction_phone, i);
        for (guint r = 0; r < rules->sung->len; r++) {
            const sung_rule *rule = g_ptr_array_index(rules->sung, r);
            if (!rule_fits(rule, phone, i + 1 == phones->len))
                continue;
            g_strlcpy(phone->text, rule->vowel, PHONE_MAX);
            g_strlcpy(phone->off_glide, rule->off_glide, PHONE_MAX);
            if (rule->remark != NULL)
                phone->remark = diction_listed_remark(rule->remark);
            break;
        }
    }
}

diction_remark diction_listed_remark(const char *text)
{
    return (diction_remark){text != NULL ? APERTA_SOUND_REMARK_LISTED : APERTA_SOUND_REMARK_NONE, text};
}

const char *diction_rules_added(const diction_rules *rules, const char *letters, diction_remark *remark)
{
    for (guint r = 0; r < rules->sung->len; r++) {
        const sung_rule *rule = g_ptr_array_index(rules->sung, r);
        if (rule->where != WHERE_ADDED || !g_str_has_suffix(letters, rule->spoken))
            continue;
        *remark = diction_listed_remark(rule->remark);
        return rule->vowel;
    }
    return NULL;
}

const char *diction_rules_judged_as(const diction_rules *rules, const char *vowel, const char *off_glide)
{
    g_autofree char *diphthong = g_strconcat(vowel, off_glide, NULL);
    const char *judged = g_hash_table_lookup(rules->judged, diphthong);

    return judged != NULL ? judged : g_hash_table_lookup(rules->judged, vowel);
}
