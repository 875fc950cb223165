/* score.c - opens a score file, tells its kind by its content, and hands it to the reader of that kind. */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <unistd.h>

/* ---- the bytes of a file ----------------------------------------------------------------------------------------- */

static gboolean fail_to_read(const char *path, int code, GError **error)
{
    g_set_error(error, APERTA_ERROR, code == ENOENT ? APERTA_ERROR_NOT_FOUND : APERTA_ERROR_UNREADABLE,
                "%s: %s (check the name and the folder)", path, code == ENOENT ? "no such file" : g_strerror(code));
    return FALSE;
}

/* Reads until the end, whatever kind of file it is, and no more than the limit. */
static gboolean read_all(int file, const char *path, GByteArray *bytes, GError **error)
{
    guint8 block[65536];

    for (;;) {
        gssize n = read(file, block, sizeof block);
        if (n < 0 && errno == EINTR)
            continue;
        if (n < 0)
            return fail_to_read(path, errno, error);
        if (n == 0)
            return TRUE;
        if (bytes->len + (gsize)n > SCORE_BYTES_MAX)
            return score_fail(error, path, 0, "it has more than %u MB, too large for a score (export one song)",
                              SCORE_BYTES_MAX >> 20);
        g_byte_array_append(bytes, block, (guint)n);
    }
}

static gboolean load(const char *path, GByteArray *bytes, GError **error)
{
    if (g_file_test(path, G_FILE_TEST_IS_DIR))
        return score_fail(error, path, 0, "this is a folder (name the score in it)");
    int file = g_open(path, O_RDONLY | O_CLOEXEC, 0);
    if (file < 0)
        return fail_to_read(path, errno, error);
    gboolean done = read_all(file, path, bytes, error);
    close(file);
    return done;
}

/* ---- public ------------------------------------------------------------------------------------------------------ */

/* What is neither XML, zip nor MIDI is read as text, unless its name says that it should be one of them. */
static gboolean check_ending(const score_input *input, GError **error)
{
    static const struct {
        const char *ending, *kind;
    } kinds[] = {
        {".musicxml", "XML"}, {".xml", "XML"},   {".mxl", "compressed MusicXML"},
        {".mid", "MIDI"},     {".midi", "MIDI"}, {".kar", "MIDI"},
    };
    g_autofree char *name = g_ascii_strdown(input->name, -1);

    for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++)
        if (g_str_has_suffix(name, kinds[i].ending))
            return score_fail(error, input->name, 0,
                              "its name says %s, but its content is none (export the score again)", kinds[i].kind);
    return TRUE;
}

static gboolean read_draft(score_draft **draft, const score_input *input, GError **error)
{
    if (score_is_midi(input)) {
        *draft = score_draft_new(input->name, APERTA_SCORE_MIDI);
        return score_read_midi(*draft, input, error);
    }
    if (score_is_zip(input)) {
        score_input inner = {input->name, NULL, 0};
        g_autofree char *bytes = NULL;
        if (!score_unzip(input, &bytes, &inner.n, error))
            return FALSE;
        inner.bytes = bytes;
        *draft = score_draft_new(input->name, APERTA_SCORE_MUSICXML);
        return score_read_musicxml(*draft, &inner, error);
    }
    if (score_is_musicxml(input)) {
        *draft = score_draft_new(input->name, APERTA_SCORE_MUSICXML);
        return score_read_musicxml(*draft, input, error);
    }
    if (!check_ending(input, error))
        return FALSE;
    *draft = score_draft_new(input->name, APERTA_SCORE_TEXT);
    return score_read_text(*draft, input, error);
}

aperta_score *score_read_bytes(const char *name, const void *bytes, gsize n, const aperta_score_options *options,
                               GError **error)
{
    score_input input = {name, bytes, n};
    g_autoptr(score_draft) draft = NULL;

    if (options != NULL && (options->octave < -3 || options->octave > 3)) {
        g_set_error(error, APERTA_ERROR, APERTA_ERROR_RANGE, "octave %d is out of range (-3 to 3 can be read)",
                    options->octave);
        return NULL;
    }
    if (n == 0) {
        score_fail(error, name, 0, "the file is empty (export the score again)");
        return NULL;
    }
    if (!read_draft(&draft, &input, error))
        return NULL;
    return score_finish(draft, options, error);
}

aperta_score *aperta_score_read(const char *path, const aperta_score_options *options, GError **error)
{
    g_autoptr(GByteArray) bytes = g_byte_array_new();

    if (!load(path, bytes, error))
        return NULL;
    return score_read_bytes(path, bytes->data, bytes->len, options, error);
}

/* The bytes may have changed since score was read: they are checked as if they were new. */
GBytes *aperta_score_write_marked(const char *path, const aperta_score *score, const aperta_score_mark *marks,
                                  gsize n_marks, GError **error)
{
    g_autoptr(GByteArray) bytes = g_byte_array_new();
    g_autofree char *unzipped = NULL;

    if (!load(path, bytes, error))
        return NULL;
    score_input input = {path, (const char *)bytes->data, bytes->len};
    if (score_is_zip(&input)) {
        if (!score_unzip(&input, &unzipped, &input.n, error))
            return NULL;
        input.bytes = unzipped;
    }
    if (!score_is_musicxml(&input)) {
        score_fail(error, path, 0, "only a MusicXML score can be marked (export the song as MusicXML)");
        return NULL;
    }
    g_autoptr(score_draft) draft = score_draft_new(path, APERTA_SCORE_MUSICXML);
    if (!score_read_musicxml(draft, &input, error))
        return NULL;
    return score_mark(&input, score, marks, n_marks, error);
}

void aperta_score_free(aperta_score *score)
{
    if (score == NULL)
        return;
    g_free(score->file);
    g_free(score->title);
    g_free(score->composer);
    g_free(score->lyricist);
    for (guint i = 0; i < score->n_parts; i++) {
        g_free(score->parts[i].id);
        g_free(score->parts[i].name);
    }
    g_free(score->parts);
    for (guint i = 0; i < score->n_notes; i++)
        aperta_score_note_clear(&score->notes[i]);
    g_free(score->notes);
    for (guint i = 0; i < score->n_left_out; i++) {
        g_free(score->left_out[i].text);
        g_free(score->left_out[i].bar);
    }
    g_free(score->left_out);
    g_strfreev(score->warnings);
    g_free(score);
}
