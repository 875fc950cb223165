/* fuzz.c - reads, and checks what include/aperta/score.h promises. */
#ifndef _GNU_SOURCE
#define _GNU_SOURCE /* memfd_create */
#endif
#include "fuzz.h"
#include "score/score-private.h"

#include <aperta/words.h>
#include <math.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

static void check_note(const aperta_score *score, const aperta_score_note *note)
{
    int last_verse = 0;

    fuzz_require(isfinite(note->start_s) && isfinite(note->end_s));
    fuzz_require(note->start_s >= 0.0 && note->end_s >= note->start_s);
    fuzz_require(note->start_quarters >= 0.0 && note->length_quarters >= 0.0);
    fuzz_require(note->stress >= 0.0 && note->stress <= 1.0);
    fuzz_require(note->midi >= 0 && note->midi <= 127);
    fuzz_require(note->fifths >= -7 && note->fifths <= 7);
    fuzz_require(note->name[0] != '\0' && memchr(note->name, '\0', sizeof note->name) != NULL);
    int midi;
    if (note->midi > 0) /* it may be spelled B♯-2, which is no name to read */
        fuzz_require(aperta_pitch_parse(note->name, &midi) && midi == note->midi);
    fuzz_require(note->bar != NULL && (note->n_lyrics == 0 || note->lyrics != NULL));
    for (guint i = 0; i < note->n_lyrics; i++) {
        const aperta_lyric *lyric = &note->lyrics[i];
        fuzz_require(lyric->verse >= last_verse && lyric->verse >= 1 && lyric->verse <= score->n_verses);
        fuzz_require(lyric->text != NULL && lyric->text[0] != '\0' && g_utf8_validate(lyric->text, -1, NULL));
        fuzz_require((int)lyric->syllabic >= APERTA_SYLLABIC_SINGLE && (int)lyric->syllabic <= APERTA_SYLLABIC_END);
        last_verse = lyric->verse;
    }
}

static void check_score(const aperta_score *score)
{
    double last = 0.0;

    fuzz_require(score->part < score->n_parts);
    for (guint i = 0; i < score->n_notes; i++) {
        const aperta_score_note *note = &score->notes[i];
        check_note(score, note);
        fuzz_require(note->start_quarters >= last - 0.002);
        last = note->start_quarters;
    }
    for (guint i = 0; i < score->n_remarks; i++) {
        g_autofree char *text = aperta_score_remark_text(&score->remarks[i]);
        fuzz_require(g_utf8_validate(text, -1, NULL));
    }
    fuzz_require(score->title == NULL || g_utf8_validate(score->title, -1, NULL));
}

aperta_score *fuzz_read(const char *name, const uint8_t *data, size_t size)
{
    GError *error = NULL;
    aperta_score *score = score_read_bytes(name, data, size, NULL, &error);

    fuzz_require((score == NULL) == (error != NULL));
    if (score != NULL)
        check_score(score);
    else
        fuzz_require(g_str_has_prefix(error->message, name) && g_utf8_validate(error->message, -1, NULL));
    g_clear_error(&error);
    return score;
}

char *fuzz_file(const uint8_t *data, size_t size, int *fd)
{
    *fd = memfd_create("fuzz", MFD_CLOEXEC);
    fuzz_require(*fd >= 0 && write(*fd, data, size) == (ssize_t)size && lseek(*fd, 0, SEEK_SET) == 0);
    return g_strdup_printf("/proc/self/fd/%d", *fd);
}

void fuzz_check_error(const GError *error, const char *path)
{
    fuzz_require(error->domain == APERTA_ERROR && g_utf8_validate(error->message, -1, NULL));
    fuzz_require(g_str_has_prefix(error->message, path));
}

void fuzz_add_text(GPtrArray *seeds, const char *text)
{
    g_ptr_array_add(seeds, g_bytes_new(text, strlen(text)));
}

void fuzz_add_reference(GPtrArray *seeds, const char *folder, const char *ending)
{
    g_autofree char *path = g_build_filename(APERTA_SOURCE_REFDATA, folder, NULL);
    GDir *dir = g_dir_open(path, 0, NULL);

    fuzz_require(dir != NULL);
    for (const char *name; (name = g_dir_read_name(dir)) != NULL;) {
        if (!g_str_has_suffix(name, ending))
            continue;
        g_autofree char *file = g_build_filename(path, name, NULL);
        char *text;
        gsize n;
        fuzz_require(g_file_get_contents(file, &text, &n, NULL));
        g_ptr_array_add(seeds, g_bytes_new_take(text, n));
    }
    g_dir_close(dir);
}
