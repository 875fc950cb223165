/* fuzz-words.c - a user's list of words, and a verse sung by it. */
#include "fuzz.h"
#include "sing.h"

#include <unistd.h>

static aperta_diction *read_list(const uint8_t *data, size_t size)
{
    g_autoptr(GError) error = NULL;
    int fd;
    g_autofree char *path = fuzz_file(data, size, &fd);
    aperta_diction *diction = aperta_diction_create("en-US", path, &error);

    close(fd);
    fuzz_require((diction == NULL) == (error != NULL));
    if (error != NULL)
        fuzz_check_error(error, path);
    return diction;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    aperta_diction *diction = read_list(data, size);
    if (diction == NULL)
        return 0;
    GArray *sounds = sing_line(diction, "the moon a-gain wa-ter, the ea-gle");

    fuzz_require(sounds->len == 9);
    for (guint i = 0; i < sounds->len; i++) {
        const aperta_syllable_sound *sound = &g_array_index(sounds, aperta_syllable_sound, i);
        fuzz_require((sound->nucleus == NULL) == (sound->ipa == NULL));
    }
    g_array_unref(sounds);
    aperta_diction_free(diction);
    return 0;
}

GPtrArray *fuzz_seeds(void)
{
    GPtrArray *seeds = g_ptr_array_new_with_free_func((GDestroyNotify)g_bytes_unref);

    fuzz_add_text(seeds, "# mine\nmoon\tˈmun\tas we say it\nagain\tə.ˈɡɛn\nthe +vowel\tði\nwater\t*\ta remark\n");
    fuzz_add_text(seeds, "-oon\tˈun\neagle\tˈi.ɡəl\r\n\nWATER\tˈwɔː.t͡sɚ̃\n");
    return seeds;
}
