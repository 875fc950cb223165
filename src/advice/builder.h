/* builder.h - a rules file while it is read: what rules.c and style-settings.c share. */
#ifndef ADVICE_BUILDER_H
#define ADVICE_BUILDER_H

#include "advice/advice-private.h"

/* Women, men and children: each needs a value of every setting. */
enum { ADVICE_N_GROUPS = 3 };

/* The names that a condition of this file may use, and whether one did. */
typedef struct {
    aperta_rules *rules;
    advice_problems *problems;
    gboolean has_style;                  /* the section is read */
    GHashTable *used;                    /* setting names */
    GHashTable *excused;                 /* setting names whose absence is told already, or follows from what is told */
    GPtrArray *lacking[ADVICE_N_GROUPS]; /* setting names that are given for others than this group of voices */
    const advice_rule *checking;         /* the rule whose condition is walked */
} advice_builder;

void advice_setting_free(gpointer setting);

/* Takes the values of a section [settings] or [settings VOICE]. */
void advice_settings_add(advice_builder *builder, const advice_section *section);
/* What stands in a section that is refused is not missed elsewhere. */
void advice_settings_excuse(advice_builder *builder, const advice_section *section);

/* When all is read, in this order: names that are nearly those asked for; then, for each rule, the limits of its
 * conditions and what the search for its aim needs; then what is missing or left over. One slip is told once, where it
 * is. */
void advice_settings_check_names(advice_builder *builder);
void advice_settings_check_limit(advice_builder *builder, const advice_node *node);
void advice_settings_check_search(advice_builder *builder, const advice_rule *rule);
void advice_settings_check_rest(advice_builder *builder);

#endif
