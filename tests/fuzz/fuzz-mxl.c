/* fuzz-mxl.c - compressed MusicXML. */
#include "fuzz.h"
#include "musicxml-seeds.h"
#include "score-files.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size >= 2 && data[0] == 'P' && data[1] == 'K')
        aperta_score_free(fuzz_read("fuzz.mxl", data, size));
    return 0;
}

GPtrArray *fuzz_seeds(void)
{
    GPtrArray *seeds = g_ptr_array_new_with_free_func((GDestroyNotify)g_bytes_unref);
    g_autoptr(GBytes) score = g_bytes_new_static(SEED_TIMEWISE, sizeof SEED_TIMEWISE - 1);

    g_ptr_array_add(seeds, mxl_of(SEED_PARTWISE));
    g_ptr_array_add(seeds, zip_of("by-hand.musicxml", score, NULL));
    return seeds;
}
