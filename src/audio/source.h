/* source.h - where sound comes from: one reader a kind of file, all used alike by audio.c.
 *
 * A source owns the descriptor it was opened on, an ordinary file, which it may read in any way. */
#ifndef AUDIO_SOURCE_H
#define AUDIO_SOURCE_H

#include <aperta/audio.h>

typedef struct audio_source audio_source;

typedef struct {
    /* The next n frames, interleaved; fewer only at the end, -1 on error (UNREADABLE, INTERRUPTED). */
    gint64 (*read)(audio_source *source, float *frames, gint64 n, GError **error);
    /* Goes on at a frame, counted from the first; FALSE: cannot. Frame 0 always can, or error is set (UNREADABLE). */
    gboolean (*seek)(audio_source *source, gint64 frame, GError **error);
    void (*close)(audio_source *source);
} audio_source_kind;

struct audio_source {
    const audio_source_kind *kind;
    char *path; /* for messages */
    int rate_hz;
    int n_channels;
    double start_s;       /* when the first frame sounds, in the time of the file; may be negative */
    gint64 n_frames;      /* what the file says; -1: it does not say */
    gboolean approximate; /* n_frames is an estimate */
    double promised_s;    /* what a header says of a file that is known to hold less; 0: nothing */
    gboolean cut;         /* it is known to end too early; complete once reading came to the end */
    gboolean damaged;     /* parts of it were replaced by silence; complete likewise */
    double bits_per_s;    /* as aperta_audio_info has it; 0: not lossy, or not known yet */
    gboolean lossy;       /* bits_per_s follows from packet_bytes once reading came to the end */
    gint64 packet_bytes;
};

typedef struct {
    const char *path; /* for messages */
    const volatile int *cancel;
} audio_request;

/* Takes fd. NULL: nothing here reads it (FORMAT), or another error. */
audio_source *audio_source_open(int fd, const audio_request *request, GError **error);
void audio_source_close(audio_source *source);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(audio_source, audio_source_close)

/* One reader each. They take fd only when they succeed. */
audio_source *audio_sndfile_open(int fd, const audio_request *request, GError **error);
/* program: aperta-decode, or what speaks like it. patience_s: it hangs when nothing comes for so long. program must
 * outlive the source. */
audio_source *audio_decoder_open(int fd, const audio_request *request, const char *program, double patience_s,
                                 GError **error);

#endif
