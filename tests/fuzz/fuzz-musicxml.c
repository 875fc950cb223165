/* fuzz-musicxml.c - MusicXML, read, marked and read again: the marked copy has the same notes and one verse more. */
#include "fuzz.h"
#include "musicxml-seeds.h"

#include "score/score-private.h"

static void mark_and_read(const aperta_score *score, const uint8_t *data, size_t size)
{
    const aperta_score_note *note = &score->notes[0];
    char text[] = "aw";
    aperta_score_mark mark = {note->element, text};
    score_input input = {"fuzz.xml", (const char *)data, size};
    g_autoptr(GBytes) bytes = score_mark(&input, score, &mark, 1, NULL);

    if (bytes == NULL) /* an encoding that cannot be written */
        return;
    gsize n;
    const uint8_t *again = g_bytes_get_data(bytes, &n);
    g_autoptr(aperta_score) marked = fuzz_read("fuzz.xml", again, n);
    fuzz_require(marked != NULL);
    fuzz_require(marked->n_notes == score->n_notes);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    score_input input = {"fuzz.xml", (const char *)data, size};
    g_autoptr(aperta_score) score = NULL;

    if (size == 0 || !score_is_musicxml(&input))
        return 0;
    score = fuzz_read("fuzz.xml", data, size);
    if (score != NULL && score->n_notes > 0)
        mark_and_read(score, data, size);
    return 0;
}

GPtrArray *fuzz_seeds(void)
{
    GPtrArray *seeds = g_ptr_array_new_with_free_func((GDestroyNotify)g_bytes_unref);

    fuzz_add_text(seeds, SEED_PARTWISE);
    fuzz_add_text(seeds, SEED_TIMEWISE);
    fuzz_add_text(seeds, SEED_EDGES);
    return seeds;
}
