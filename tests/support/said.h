/* said.h - what findings and shapes say, for checks that look at it in passing: the strings live as long as the test.
 */
#ifndef SUPPORT_SAID_H
#define SUPPORT_SAID_H

#include <aperta/words.h>

static inline const char *said(char *text)
{
    static GPtrArray *kept; /* never freed, and never lost */

    if (kept == NULL)
        kept = g_ptr_array_new();
    g_ptr_array_add(kept, text);
    return text;
}

#define said_text(finding)        said(aperta_finding_text(finding))
#define said_name(shape)          said(aperta_shape_name(shape))
#define said_how(shape)           said(aperta_shape_how(shape))
#define said_because(explanation) said(aperta_explanation_because(explanation))

#endif
