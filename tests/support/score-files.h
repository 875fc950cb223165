/* score-files.h - MIDI files and zip archives made in memory, for tests of the score readers. */
#ifndef SCORE_FILES_H
#define SCORE_FILES_H

#include <glib.h>

/* ---- MIDI: a track is a GByteArray of events ---- */

/* A variable-length number, as delta times and lengths are written. */
void midi_put_length(GByteArray *track, guint32 value);
/* An event after delta ticks. */
void midi_put(GByteArray *track, guint32 delta, const void *bytes, guint n);
void midi_put_meta(GByteArray *track, guint32 delta, guint8 type, const void *bytes, guint n);
/* A meta event whose data is a text. */
void midi_put_text(GByteArray *track, guint32 delta, guint8 type, const char *text);
/* Note on after delta, off after ticks; with status bytes for channel (0..15). */
void midi_put_note(GByteArray *track, guint32 delta, int channel, int key, guint32 ticks);
/* A file of those tracks, each given an end event. */
GBytes *midi_file_of(int format, guint16 division, GByteArray *const *tracks, guint n_tracks);

/* ---- zip ---- */

/* names and contents alternate: name, bytes, name, bytes, NULL. */
GBytes *zip_of(const char *name, GBytes *content, ...) G_GNUC_NULL_TERMINATED;
/* An .mxl with a container file that names score.xml. */
GBytes *mxl_of(const char *musicxml);

#endif
