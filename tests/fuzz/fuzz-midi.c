/* fuzz-midi.c - standard MIDI files. */
#include "fuzz.h"
#include "score-files.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    aperta_score_free(fuzz_read("fuzz.mid", data, size));
    return 0;
}

static GByteArray *conductor(void)
{
    GByteArray *track = g_byte_array_new();

    midi_put_text(track, 0, 0x03, "Evening");
    midi_put_meta(track, 0, 0x51, "\x07\xA1\x20", 3);
    midi_put_meta(track, 0, 0x58, "\x03\x02\x18\x08", 4);
    midi_put_meta(track, 0, 0x59, "\xFE\x01", 2);
    midi_put_meta(track, 288, 0x51, "\x09\x27\xC0", 3);
    return track;
}

static GByteArray *singer(const char *first, const char *second)
{
    GByteArray *track = g_byte_array_new();
    const guint8 running[] = {0x90, 67, 80};
    const guint8 more[] = {67, 0};

    midi_put_text(track, 0, 0x03, "Voice");
    midi_put_text(track, 0, 0x05, first);
    midi_put_note(track, 0, 0, 64, 96);
    midi_put_text(track, 0, 0x05, second);
    midi_put(track, 0, running, 3);
    midi_put(track, 96, more, 2);
    midi_put_note(track, 10, 9, 35, 20);
    return track;
}

GPtrArray *fuzz_seeds(void)
{
    GPtrArray *seeds = g_ptr_array_new_with_free_func((GDestroyNotify)g_bytes_unref);

    for (int kind = 0; kind < 3; kind++) {
        GByteArray *tracks[] = {conductor(), singer(kind == 0 ? "wa-" : "/wa", kind == 2 ? "t\xE9r" : "ter ")};
        g_ptr_array_add(seeds, midi_file_of(1, kind == 1 ? 0xE728 : 96, tracks, 2));
        g_ptr_array_add(seeds, midi_file_of(0, 96, tracks + 1, 1));
        g_byte_array_unref(tracks[0]);
        g_byte_array_unref(tracks[1]);
    }
    return seeds;
}
