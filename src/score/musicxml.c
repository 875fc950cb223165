/* musicxml.c - streams a MusicXML file (W3C MusicXML 3.1 and 4.0, partwise or timewise) child by child of its bars.
 *
 * Only one <note> at a time is in memory. Nothing outside the file is ever read: no network, no DTD, and a file that
 * declares entities of its own is refused, since a score needs none and they can be made to explode. libxml2 limits the
 * depth (256 elements) and the length of names and texts. */
#include "score/musicxml-private.h"

#include <libxml/xmlreader.h>
#include <string.h>

/* ---- the stream -------------------------------------------------------------------------------------------------- */

typedef struct {
    musicxml_reading to;
    xmlTextReaderPtr reader;
    const char *name;
    gboolean timewise;
    guint line;    /* of the first fault that libxml2 saw */
    char *problem; /* its words; NULL: none */
    GError **error;
} stream;

#if LIBXML_VERSION >= 21200
static void note_problem(void *data, const xmlError *fault)
#else
static void note_problem(void *data, xmlErrorPtr fault)
#endif
{
    stream *in = data;

    if (in->problem != NULL || fault->level == XML_ERR_WARNING || fault->message == NULL)
        return;
    in->problem = g_strstrip(g_utf8_make_valid(fault->message, -1));
    in->line = (guint)MAX(fault->line, 0);
}

static gboolean fail_at(stream *in, const char *format, ...) G_GNUC_PRINTF(2, 3);
static gboolean fail_at(stream *in, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    g_autofree char *text = g_strdup_vprintf(format, arguments);
    va_end(arguments);
    return score_fail(in->error, in->name, (guint)MAX(xmlTextReaderGetParserLineNumber(in->reader), 0), "%s", text);
}

static gboolean begin_part(stream *in)
{
    xmlChar *attribute = xmlTextReaderGetAttribute(in->reader, BAD_CAST "id");
    g_autofree char *id = score_cut_name(g_strstrip(g_strdup(attribute != NULL ? (const char *)attribute : "")));
    musicxml_part *part = g_hash_table_lookup(in->to.parts, id);

    xmlFree(attribute);
    if (part == NULL && g_hash_table_size(in->to.parts) >= SCORE_PARTS_MAX)
        return fail_at(in, "it has more than %d parts (export one song)", SCORE_PARTS_MAX);
    if (part == NULL) {
        part = g_new0(musicxml_part, 1);
        part->part = score_draft_part(in->to.draft, id);
        g_hash_table_insert(in->to.parts, g_strdup(id), part);
    }
    in->to.at = part;
    return TRUE;
}

/* A bar of one part begins; element is <measure>, or in a timewise file its attributes were kept by begin_measure. */
static void begin_bar(stream *in, guint index)
{
    musicxml_part *at = in->to.at;

    at->bar = index;
    at->n_bars = index + 1;
    at->cursor = 0.0;
    at->last_known = at->last_kept = FALSE;
    score_draft_bar(in->to.draft, index);
}

/* Number and kind of a bar, as the first part that has it says. */
static void describe_bar(stream *in, guint index)
{
    score_bar *bar = score_draft_bar(in->to.draft, index);
    xmlChar *number = xmlTextReaderGetAttribute(in->reader, BAD_CAST "number");
    xmlChar *implicit = xmlTextReaderGetAttribute(in->reader, BAD_CAST "implicit");

    if (bar->number == NULL && number != NULL && number[0] != '\0')
        bar->number = score_cut_name(g_strdup((const char *)number));
    bar->continues |= index > 0 && implicit != NULL && strcmp((const char *)implicit, "yes") == 0;
    xmlFree(number);
    xmlFree(implicit);
}

static gboolean begin_measure(stream *in)
{
    guint index = in->timewise ? in->to.n_measures++ : in->to.at->n_bars;

    if (index >= SCORE_BARS_MAX)
        return fail_at(in, "it has more than %d bars (export one song)", SCORE_BARS_MAX);
    describe_bar(in, index);
    if (!in->timewise)
        begin_bar(in, index);
    return TRUE;
}

/* An element inside a bar. */
static gboolean take_item(stream *in, const char *name)
{
    static const char *const known[] = {"note", "backup", "forward", "attributes", "direction", "sound", "barline"};
    gboolean wanted = FALSE;
    double duration;

    for (gsize i = 0; i < G_N_ELEMENTS(known); i++)
        wanted |= strcmp(name, known[i]) == 0;
    const xmlNode *node = wanted ? xmlTextReaderExpand(in->reader) : NULL;
    if (node == NULL)
        return TRUE; /* a fault shows at the next step */
    if (strcmp(name, "note") == 0) {
        musicxml_note(&in->to, node);
        if (in->to.draft->n_elements > SCORE_NOTES_MAX)
            return fail_at(in, "it has more than %d notes (export one song)", SCORE_NOTES_MAX);
    } else if (strcmp(name, "attributes") == 0) {
        musicxml_attributes(&in->to, node);
    } else if (strcmp(name, "direction") == 0) {
        musicxml_direction(&in->to, node);
    } else if (strcmp(name, "sound") == 0) {
        musicxml_sound(&in->to, node, 0.0);
    } else if (strcmp(name, "barline") == 0) {
        musicxml_barline(&in->to, node);
    } else if (musicxml_child_number(node, "duration", &duration) && duration >= 0.0) {
        musicxml_move(&in->to, (name[0] == 'b' ? -1.0 : 1.0) * musicxml_quarters(in->to.at, duration));
    } else {
        in->to.at->part->met[APERTA_SCORE_REMARK_BAD_DURATION]++;
    }
    return TRUE;
}

static gboolean take_root(stream *in, const char *name)
{
    const xmlNode *root = xmlTextReaderCurrentNode(in->reader);

    in->timewise = strcmp(name, "score-timewise") == 0;
    if (!in->timewise && strcmp(name, "score-partwise") != 0)
        return score_fail(in->error, in->name, 0,
                          "this XML is no MusicXML score: it begins with <%.40s>, a score with "
                          "<score-partwise> or <score-timewise> (export the song as MusicXML)",
                          name);
    if (root->doc->intSubset != NULL && root->doc->intSubset->entities != NULL)
        return score_fail(in->error, in->name, 0,
                          "it declares XML entities of its own, which are not read (export the "
                          "song as plain MusicXML)");
    if (!score_is_usual_encoding((const char *)root->doc->encoding))
        return score_fail(in->error, in->name, 0, "its encoding %.40s is unusual and not read (save it as UTF-8)",
                          root->doc->encoding);
    return TRUE;
}

/* The start of an element. *skip: go on behind its end. */
static gboolean take_element(stream *in, gboolean *skip)
{
    const char *name = (const char *)xmlTextReaderConstLocalName(in->reader);
    int depth = xmlTextReaderDepth(in->reader);
    const char *outer = in->timewise ? "measure" : "part";

    *skip = FALSE;
    if (depth == 0)
        return take_root(in, name);
    if (depth == 1 && strcmp(name, outer) == 0)
        return in->timewise ? begin_measure(in) : begin_part(in);
    if (depth == 2 && strcmp(name, in->timewise ? "part" : "measure") == 0) {
        if (!in->timewise)
            return begin_measure(in);
        if (!begin_part(in))
            return FALSE;
        begin_bar(in, in->to.n_measures - 1);
        return TRUE;
    }
    *skip = TRUE;
    if (depth == 1) {
        const xmlNode *node = xmlTextReaderExpand(in->reader);
        if (node != NULL)
            musicxml_header(&in->to, node);
        return TRUE;
    }
    return depth == 3 ? take_item(in, name) : TRUE;
}

static gboolean read_stream(stream *in)
{
    int status = xmlTextReaderRead(in->reader);

    while (status == 1) {
        gboolean skip = FALSE;
        if (xmlTextReaderNodeType(in->reader) == XML_READER_TYPE_ELEMENT && !take_element(in, &skip))
            return FALSE;
        status = skip ? xmlTextReaderNext(in->reader) : xmlTextReaderRead(in->reader);
    }
    if (status < 0)
        return score_fail(in->error, in->name, in->line, "damaged XML: %s (export the score again)",
                          in->problem != NULL ? in->problem : "it breaks off");
    return TRUE;
}

static void clear_language(gpointer data)
{
    musicxml_language *language = data;

    g_free(language->number);
    g_free(language->name);
    g_free(language->language);
}

static void start_libxml(void)
{
    static gsize started;

    if (g_once_init_enter(&started)) {
        xmlInitParser();
        g_once_init_leave(&started, 1);
    }
}

gboolean score_read_musicxml(score_draft *draft, const score_input *input, GError **error)
{
    stream in = {.name = input->name, .error = error};

    if (!score_guard_xml(input, error))
        return FALSE;
    start_libxml();
    in.reader = xmlReaderForMemory(input->bytes, (int)input->n, NULL, NULL,
                                   XML_PARSE_NONET | XML_PARSE_COMPACT | score_xml_options(input));
    if (in.reader == NULL)
        return score_fail(error, input->name, 0, "it cannot be read as XML (export the score again)");
    xmlTextReaderSetStructuredErrorHandler(in.reader, note_problem, &in);
    in.to.draft = draft;
    in.to.languages = g_array_new(FALSE, TRUE, sizeof(musicxml_language));
    g_array_set_clear_func(in.to.languages, clear_language);
    in.to.parts = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    gboolean read = read_stream(&in);
    musicxml_finish_header(&in.to);
    xmlFreeTextReader(in.reader);
    g_array_unref(in.to.languages);
    g_hash_table_unref(in.to.parts);
    g_free(in.problem);
    return read;
}

/* XML of any kind: '<' is the first sign behind blanks and a byte order mark, in UTF-8 or UTF-16. */
gboolean score_is_musicxml(const score_input *input)
{
    gsize at = 0;

    if (input->n >= 3 && memcmp(input->bytes, "\xEF\xBB\xBF", 3) == 0)
        at = 3;
    else if (input->n >= 2 && (memcmp(input->bytes, "\xFF\xFE", 2) == 0 || memcmp(input->bytes, "\xFE\xFF", 2) == 0))
        at = 2;
    while (at < input->n && (input->bytes[at] == '\0' || g_ascii_isspace(input->bytes[at])))
        at++;
    return at < input->n && input->bytes[at] == '<';
}
