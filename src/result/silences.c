/* silences.c - the notes of a take that no rule speaks about, by the reason. */
#include "result/silences.h"

#include "result/query.h"

static void free_silence(gpointer data)
{
    result_silence *silence = data;

    g_ptr_array_unref(silence->notes);
    g_free(silence);
}

static gboolean has_reach(aperta_silence silence)
{
    return silence == APERTA_SILENCE_LOW || silence == APERTA_SILENCE_HIGH;
}

static void add(GPtrArray *silences, const aperta_sung_note *note)
{
    int reach_midi = has_reach(note->silence) ? note->reach_midi : 0;
    result_silence *shared = NULL;

    for (guint i = 0; i < silences->len && shared == NULL; i++) {
        result_silence *one = g_ptr_array_index(silences, i);
        if (one->silence == note->silence && one->reach_midi == reach_midi)
            shared = one;
    }
    if (shared == NULL) {
        shared = g_new0(result_silence, 1);
        *shared = (result_silence){note->silence, reach_midi, g_ptr_array_new()};
        g_ptr_array_add(silences, shared);
    }
    g_ptr_array_add(shared->notes, (gpointer)note);
}

GPtrArray *result_silences(const aperta_result *result)
{
    GPtrArray *silences = g_ptr_array_new_with_free_func(free_silence);

    for (guint i = 0; i < result->notes->len; i++) {
        const aperta_sung_note *note = result_note_at(result, i);
        if (!result_note_spoken_of(note) && aperta_sung_note_resonances(note)[0].status != APERTA_UNKNOWN)
            add(silences, note);
    }
    return silences;
}
