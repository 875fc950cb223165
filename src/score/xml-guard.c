/* xml-guard.c - looks over the signs of an XML file for what would cost a parser far more than its size: very many
 * tags in one place (each element is a node of a tree while its note is read) and very many attributes in one tag
 * (libxml2 compares each with each). No score has either; depth and length of names are limited by libxml2 itself.
 *
 * The look knows no more of XML than where tags, quotes and comments end. It reads UTF-16 as libxml2 would, and every
 * other encoding as one that keeps ASCII. */
#include "score/score-private.h"
#include "score/score-tuning.h"

#include <libxml/parser.h>
#include <string.h>

/* The file as signs: bytes, or the 16-bit units of UTF-16. */
typedef struct {
    const guint8 *bytes;
    gsize n;     /* signs */
    guint width; /* bytes of a sign */
    guint low;   /* which of them is the lower one */
} signs;

/* UTF-16 is told as libxml2 tells it: by a byte order mark, or by the '<' at the beginning. */
static signs signs_of(const score_input *input)
{
    const guint8 *bytes = (const guint8 *)input->bytes;
    signs text = {bytes, input->n, 1, 0};

    if (input->n < 2)
        return text;
    gboolean little = (bytes[0] == 0xFF && bytes[1] == 0xFE) || (bytes[0] == '<' && bytes[1] == 0);
    gboolean big = (bytes[0] == 0xFE && bytes[1] == 0xFF) || (bytes[0] == 0 && bytes[1] == '<');
    if (little || big)
        text = (signs){bytes, input->n / 2, 2, big};
    return text;
}

static guint sign_at(const signs *text, gsize at)
{
    const guint8 *bytes = text->bytes + at * text->width;

    return text->width == 1 ? bytes[0] : bytes[text->low] | (guint)bytes[1 - text->low] << 8;
}

static gboolean stands_at(const signs *text, gsize at, const char *word)
{
    for (; *word != '\0'; word++, at++)
        if (at >= text->n || sign_at(text, at) != (guchar)*word)
            return FALSE;
    return TRUE;
}

/* Behind the end of what is no tag: a comment, an instruction, a section of plain text. 0: a tag begins at at. */
static gsize end_of_aside(const signs *text, gsize at)
{
    static const struct {
        const char *begin, *end;
    } asides[] = {{"<!--", "-->"}, {"<?", "?>"}, {"<![CDATA[", "]]>"}};

    for (gsize i = 0; i < G_N_ELEMENTS(asides); i++) {
        if (!stands_at(text, at, asides[i].begin))
            continue;
        for (at += strlen(asides[i].begin); at < text->n; at++)
            if (stands_at(text, at, asides[i].end))
                return at + strlen(asides[i].end);
        return text->n;
    }
    return 0;
}

/* The end of an element after which the parser forgets what it read. */
static gboolean ends_item(const signs *text, gsize at)
{
    static const char *const items[] = {"</note>", "</measure>", "</score-part>", "</credit>"};

    for (gsize i = 0; i < G_N_ELEMENTS(items); i++)
        if (stands_at(text, at, items[i]))
            return TRUE;
    return FALSE;
}

/* Behind the tag that begins at at: up to its '>', or to a '<' outside quotes, as within a document type. */
static gsize pass_tag(const signs *text, gsize at, guint *n_attributes)
{
    guint quote = 0;

    *n_attributes = 0;
    for (at++; at < text->n; at++) {
        guint sign = sign_at(text, at);
        if (quote != 0) {
            quote = sign == quote ? 0 : quote;
        } else if (sign == '"' || sign == '\'') {
            quote = sign;
        } else if (sign == '>' || sign == '<') {
            break;
        } else {
            *n_attributes += sign == '=';
        }
    }
    return at;
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
    signs text = signs_of(input);
    guint crowd = 0;

    if (is_utf32(input))
        return score_fail(error, input->name, 0, "its encoding UTF-32 is unusual and not read (save it as UTF-8)");
    for (gsize at = 0; at < text.n;) {
        if (sign_at(&text, at) != '<') {
            at++;
            continue;
        }
        guint n_attributes = 0;
        gsize behind = end_of_aside(&text, at);
        crowd = ends_item(&text, at) ? 0 : crowd + 1;
        at = behind > 0 ? behind : pass_tag(&text, at, &n_attributes);
        if (crowd > SCORE_CROWD_MAX || n_attributes > SCORE_ATTRIBUTES_MAX)
            return score_fail(error, input->name, 0,
                              "there are too many %s in one place for a score (export the song "
                              "again)",
                              crowd > SCORE_CROWD_MAX ? "elements" : "attributes");
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
