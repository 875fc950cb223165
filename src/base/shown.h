/* shown.h - which characters command a screen; see aperta_shown. */
#ifndef BASE_SHOWN_H
#define BASE_SHOWN_H

#include <glib.h>

/* Whether a character commands the screen rather than being seen on it: C0 and C1 controls (ISO 6429), marks that turn
 * the direction of what follows (UAX #9), line and paragraph separators, and the two that XML 1.0 forbids. */
gboolean base_is_command(gunichar c);
#endif
