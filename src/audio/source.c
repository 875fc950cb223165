/* source.c - which reader a file gets: by what is in it, never by its name. */
#include "source.h"

#include <unistd.h>

void audio_source_close(audio_source *source)
{
    if (source == NULL)
        return;
    g_free(source->path);
    source->kind->close(source);
}

audio_source *audio_source_open(int fd, const audio_request *request, GError **error)
{
    audio_source *source = audio_sndfile_open(fd, request, error);

    if (source == NULL)
        close(fd);
    return source;
}
