/* draft.c - the record that the readers fill. */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <math.h>
#include <string.h>

static void free_syllable(gpointer data)
{
    score_syllable *syllable = data;

    g_free(syllable->text);
    g_free(syllable->language);
    g_free(syllable);
}

GPtrArray *score_syllables_new(void)
{
    return g_ptr_array_new_with_free_func(free_syllable);
}

void score_event_clear(gpointer data)
{
    score_event *event = data;

    g_clear_pointer(&event->syllables, g_ptr_array_unref);
}

static void clear_lost(gpointer data)
{
    g_clear_pointer(&((score_lost *)data)->syllable, free_syllable);
}

static void free_part(gpointer data)
{
    score_part *part = data;

    g_free(part->id);
    g_free(part->name);
    g_ptr_array_unref(part->voices);
    g_ptr_array_unref(part->verse_keys);
    g_array_unref(part->events);
    g_array_unref(part->lost);
    g_free(part);
}

static void clear_bar(gpointer data)
{
    g_free(((score_bar *)data)->number);
}

score_draft *score_draft_new(const char *file, aperta_score_format format)
{
    score_draft *draft = g_new0(score_draft, 1);

    draft->file = file;
    draft->format = format;
    draft->parts = g_ptr_array_new_with_free_func(free_part);
    draft->bars = g_array_new(FALSE, TRUE, sizeof(score_bar));
    g_array_set_clear_func(draft->bars, clear_bar);
    draft->tempi = g_array_new(FALSE, TRUE, sizeof(score_tempo));
    draft->remarks = score_remarks_new();
    return draft;
}

void score_draft_free(score_draft *draft)
{
    if (draft == NULL)
        return;
    g_free(draft->title);
    g_free(draft->composer);
    g_free(draft->lyricist);
    g_ptr_array_unref(draft->parts);
    g_array_unref(draft->bars);
    g_array_unref(draft->tempi);
    g_array_unref(draft->remarks);
    g_free(draft);
}

score_part *score_draft_part(score_draft *draft, const char *id)
{
    for (guint i = 0; i < draft->parts->len; i++) {
        score_part *known = score_part_at(draft->parts, i);
        if (strcmp(known->id, id) == 0)
            return known;
    }
    score_part *part = g_new0(score_part, 1);
    part->id = g_strdup(id);
    part->name = g_strdup("");
    part->voices = g_ptr_array_new_with_free_func(g_free);
    part->verse_keys = g_ptr_array_new_with_free_func(g_free);
    part->events = g_array_new(FALSE, TRUE, sizeof(score_event));
    g_array_set_clear_func(part->events, score_event_clear);
    part->lost = g_array_new(FALSE, FALSE, sizeof(score_lost));
    g_array_set_clear_func(part->lost, clear_lost);
    g_ptr_array_add(draft->parts, part);
    return part;
}

score_bar *score_draft_bar(score_draft *draft, guint index)
{
    if (index >= draft->bars->len)
        g_array_set_size(draft->bars, index + 1);
    return &g_array_index(draft->bars, score_bar, index);
}

int score_name_find(const GPtrArray *names, const char *name)
{
    for (guint i = 0; i < names->len; i++)
        if (strcmp(g_ptr_array_index(names, i), name) == 0)
            return (int)i;
    return -1;
}

guint score_name_index(GPtrArray *names, const char *name)
{
    int known = score_name_find(names, name);

    if (known >= 0)
        return (guint)known;
    g_ptr_array_add(names, g_strdup(name));
    return names->len - 1;
}

char *score_cut_name(char *name)
{
    if (name != NULL && strlen(name) > SCORE_NAME_BYTES_MAX)
        *g_utf8_find_prev_char(name, name + SCORE_NAME_BYTES_MAX + 1) = '\0';
    return name;
}

void score_part_lose(score_part *part, guint bar, GPtrArray *syllables, const char *why)
{
    while (syllables != NULL && syllables->len > 0) {
        score_lost lost = {g_ptr_array_steal_index(syllables, 0), bar, why};
        g_array_append_val(part->lost, lost);
    }
}

/* Groups of a meter that is written as one number: two halves of an even one, threes of a compound one. */
static guint32 usual_groups(int n_beats)
{
    guint32 groups = 0;
    int step = n_beats > 3 && n_beats % 3 == 0 ? 3 : n_beats > 2 && n_beats % 2 == 0 ? n_beats / 2 : n_beats;

    for (int beat = 0; beat < n_beats; beat += step)
        groups |= 1u << beat;
    return groups;
}

gboolean score_meter_parse(const char *beats, const char *beat_type, score_meter *meter)
{
    g_auto(GStrv) terms = g_strsplit(beats, "+", 33);
    double type;
    score_meter read = {0};

    if (terms[0] == NULL || !score_number(beat_type, &type) || type < 1 || type > 256)
        return FALSE;
    read.beat_type = (int)type;
    for (char **term = terms; *term != NULL; term++) {
        double n;
        if (!score_number(*term, &n) || n < 1 || read.n_beats + n > 32 || n != floor(n))
            return FALSE;
        read.groups |= 1u << read.n_beats;
        read.n_beats += (int)n;
    }
    read.compound = terms[1] != NULL || (read.n_beats > 3 && read.n_beats % 3 == 0);
    if (terms[1] == NULL)
        read.groups = usual_groups(read.n_beats);
    *meter = read;
    return TRUE;
}
