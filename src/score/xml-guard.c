/* xml-guard.c - looks over the bytes of an XML file for what would cost a parser far more than its size: very many
 * elements in one place (each is a node of a tree while its note is read) and very many attributes in one element
 * (libxml2 compares each with each). No score has either; depth and length of names are limited by libxml2 itself.
 *
 * The look is rough on purpose: it counts '<' and '=' in any encoding that keeps ASCII, UTF-16 included. */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <libxml/parser.h>
#include <string.h>

/* Does word follow, each sign spaced out with NULs as the first one is (UTF-16)? */
static gboolean follows(const char *at, const char *end, const char *word)
{
    gsize stride = 1;

    while (at + stride < end && at[stride] == '\0' && stride < 4)
        stride++;
    for (at += stride; *word != '\0'; word++, at += stride)
        if (at >= end || *at != *word)
            return FALSE;
    return TRUE;
}

/* The end of an element after which the parser forgets what it read. */
static gboolean ends_item(const char *at, const char *end)
{
    static const char *const items[] = {"/note>", "/measure>", "/score-part>", "/credit>"};

    for (gsize i = 0; i < G_N_ELEMENTS(items); i++)
        if (follows(at, end, items[i]))
            return TRUE;
    return FALSE;
}

static guint count_until(const char *at, const char *end, char sign)
{
    guint n = 0;

    while ((at = memchr(at, sign, (gsize)(end - at))) != NULL) {
        at++;
        n++;
    }
    return n;
}

/* Four bytes a sign: hardly anybody writes that, and libxml2 complains on standard error. */
static gboolean is_utf32(const score_input *input)
{
    guint zeros = 0;

    for (gsize i = 0; i < 4 && i < input->n; i++)
        zeros += input->bytes[i] == '\0';
    return zeros >= 3 || (input->n >= 4 && memcmp(input->bytes, "\xFF\xFE\0\0", 4) == 0) ||
           (input->n >= 4 && memcmp(input->bytes, "\0\0\xFE\xFF", 4) == 0);
}

gboolean score_guard_xml(const score_input *input, GError **error)
{
    const char *end = input->bytes + input->n;
    const char *at = memchr(input->bytes, '<', input->n);
    guint crowd = 0;

    if (is_utf32(input))
        return score_fail(error, input->name, 0, "its encoding UTF-32 is unusual and not read (save it as UTF-8)");
    while (at != NULL) {
        const char *next = memchr(at + 1, '<', (gsize)(end - at - 1));
        crowd = ends_item(at, end) ? 0 : crowd + 1;
        if (crowd > SCORE_CROWD_MAX || count_until(at, next != NULL ? next : end, '=') > SCORE_ATTRIBUTES_MAX)
            return score_fail(error, input->name, 0,
                              "there are too many %s in one place for a score (export the song "
                              "again)",
                              crowd > SCORE_CROWD_MAX ? "elements" : "attributes");
        at = next;
    }
    return TRUE;
}

/* Encodings that keep ASCII, UTF-16 apart: the guard sees through them. */
gboolean score_is_usual_encoding(const char *encoding)
{
    static const char *const usual[] = {"UTF-8",       "UTF-16", "ISO-8859-", "US-ASCII",  "ASCII",
                                        "WINDOWS-125", "CP125",  "KOI8-",     "EUC-",      "SHIFT_JIS",
                                        "GB",          "BIG5",   "MACINTOSH", "ISO-LATIN-"};

    for (gsize i = 0; encoding != NULL && i < G_N_ELEMENTS(usual); i++)
        if (g_ascii_strncasecmp(encoding, usual[i], strlen(usual[i])) == 0)
            return TRUE;
    return encoding == NULL;
}

/* Some programs write UTF-16 into the declaration and UTF-8 into the file. */
int score_xml_options(const score_input *input)
{
    const char *declaration = input->bytes;
    gsize n = MIN(input->n, SCORE_DECLARATION_MAX);
    const char *end, *name;

    if (n >= 3 && memcmp(declaration, "\xEF\xBB\xBF", 3) == 0) {
        declaration += 3;
        n -= 3;
    }
    if (n < 5 || memcmp(declaration, "<?xml", 5) != 0 || (end = memchr(declaration, '>', n)) == NULL)
        return 0; /* no declaration, or really UTF-16 */
    name = g_strstr_len(declaration, end - declaration, "UTF-16");
    if (name == NULL)
        name = g_strstr_len(declaration, end - declaration, "utf-16");
    return name != NULL ? XML_PARSE_IGNORE_ENC : 0;
}
