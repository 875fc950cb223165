/* aperta/tract.h - resonances of the vocal tract during a note whose fundamental is known. */
#ifndef APERTA_TRACT_H
#define APERTA_TRACT_H

#include <aperta/base.h>

G_BEGIN_DECLS

typedef struct {
    int sample_rate_hz;
    aperta_voice voice; /* woman, man, child or a voice type; UNKNOWN is read as woman */
    double band_hz;     /* highest frequency that holds sound (a telephone's ends at 3400); 0: all of it */
} aperta_tract_config;

typedef struct aperta_tract aperta_tract;

aperta_tract *aperta_tract_create(const aperta_tract_config *config);
void aperta_tract_destroy(aperta_tract *tract);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(aperta_tract, aperta_tract_destroy)

/* Longest stretch of one note that is looked at, seconds; a longer steady part is read from its middle. */
#define APERTA_TRACT_NOTE_MAX_S 8.0

/* Reads one note. samples[0] stands at start_s; they must cover note->span as far as the recording does. frames, if not
 * NULL, has one record for each frame of the track; those of the note's steady part that could be read are filled in,
 * all others are left as they are. So several tracts may read the notes of one track at the same time. */
void aperta_tract_read(aperta_tract *tract, const float *samples, gsize n, double start_s, const aperta_f0_track *track,
                       const aperta_note *note, aperta_tract_reading *reading, aperta_tract_frame *frames);

G_END_DECLS

#endif
