/* score.c - opens a score file, tells its kind by its content, and hands it to the reader of that kind. */
#include "base/user-file.h"
#include "score/score-private.h"
#include "score/score-tuning.h"

static const base_file_kind score_file = {.noun = "score", .mb_max = SCORE_MB_MAX, .what_to_do = SCORE_TOO_LARGE};

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
    gsize n;
    g_autofree char *bytes = base_file_read(path, &score_file, &n, error);

    return bytes != NULL ? score_read_bytes(path, bytes, n, options, error) : NULL;
}

/* The bytes may have changed since score was read: they are checked as if they were new. */
GBytes *aperta_score_write_marked(const char *path, const aperta_score *score, const aperta_score_mark *marks,
                                  gsize n_marks, GError **error)
{
    gsize n;
    g_autofree char *bytes = base_file_read(path, &score_file, &n, error), *unzipped = NULL;

    if (bytes == NULL)
        return NULL;
    score_input input = {path, bytes, n};
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
    for (guint i = 0; i < score->n_remarks; i++)
        score_remark_clear(&score->remarks[i]);
    g_free(score->remarks);
    g_free(score);
}
