/* source.c - which reader a file gets: by what is in it, never by its name. */
#include "source.h"

#include "audio-tuning.h"
#include "decoder-stream.h"

#include <unistd.h>

void audio_source_close(audio_source *source)
{
    if (source == NULL)
        return;
    g_free(source->path);
    source->kind->close(source);
}

/* Path of aperta-decode, found once; NULL: it is not installed. */
static const char *decoder_program(void)
{
    static char *program; /* set once, then only read */

    if (g_once_init_enter(&program)) {
        char *found = g_build_filename(aperta_libexec_dir(), DECODER_PROGRAM, NULL);
        g_once_init_leave(&program, found);
    }
    return g_file_test(program, G_FILE_TEST_IS_EXECUTABLE) ? program : NULL;
}

static decoder_container container_of(int fd)
{
    guint8 head[DECODER_SNIFF_BYTES];

    return pread(fd, head, sizeof head, 0) == sizeof head ? decoder_container_of(head) : DECODER_NO_CONTAINER;
}

static audio_source *open_container(int fd, const audio_request *request, decoder_container kind, GError **error)
{
    const char *program = decoder_program();

    if (program != NULL)
        return audio_decoder_open(fd, request, program, AUDIO_DECODER_PATIENCE_S, error);
    g_set_error(
        error, APERTA_ERROR, APERTA_ERROR_FORMAT,
        "%s: this is %s file, and the program that reads it, aperta-decode, is not there: Aperta was built without "
        "FFmpeg's libraries, or not all of it was built or installed (convert the file to WAV or FLAC first)",
        request->path, kind == DECODER_MP4 ? "an M4A, MP4 or MOV" : "a WebM or Matroska");
    return NULL;
}

audio_source *audio_source_open(int fd, const audio_request *request, GError **error)
{
    decoder_container kind = container_of(fd);
    audio_source *source = kind != DECODER_NO_CONTAINER ? open_container(fd, request, kind, error)
                                                        : audio_sndfile_open(fd, request, error);

    if (source == NULL)
        close(fd);
    return source;
}
