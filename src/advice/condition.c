/* condition.c - the text of a condition as a tree, by recursive descent.
 *
 *   any   = all { "or" all }
 *   all   = one { "and" one }
 *   one   = "not" one | "(" any ")" | QUANTITY OPERATOR LIMIT | SUBJECT "is" WORD | "vowel" "in" VOWEL { "," VOWEL }
 *   LIMIT = NUMBER UNIT | NOTE NAME | SETTING
 */
#include "advice/advice-private.h"
#include "advice/advice-tuning.h"

#include <math.h>
#include <string.h>

/* ---- words of the language --------------------------------------------------------------------------------------- */

/* Words behind "is", in the order of the enum each stands for. */
static const char *const status_words[] = {"unknown", "measured", "bounded", NULL};
static const char *const class_words[] = {"close",   "mid",        "open",  "front",   "central", "back",
                                          "rounded", "r-coloured", "known", "unknown", NULL};
static const char *const shape_words[] = {"none", "found", NULL};
static const char *const vibrato_words[] = {"too_short", "straight", "measured", NULL};

/* ---- tokens ------------------------------------------------------------------------------------------------------ */

typedef enum { TOKEN_END, TOKEN_WORD, TOKEN_NUMBER, TOKEN_SIGN } token_kind;

typedef struct {
    const advice_value *value;
    advice_problems *problems;
    gsize next; /* offset of what follows the token */
    /* the token */
    token_kind kind;
    gsize start;
    char *text;
    double number;
    guint nesting;
} condition_parser;

static gboolean is_word_byte(char c)
{
    return g_ascii_isalnum(c) || (guchar)c >= 0x80 || strchr("_-#%'", c) != NULL;
}

static gboolean starts_number(const char *at)
{
    if (*at == '-' || *at == '+')
        at++;
    return g_ascii_isdigit(*at) || (*at == '.' && g_ascii_isdigit(at[1]));
}

static void read_token(condition_parser *parser)
{
    const char *text = parser->value->text;
    const char *at = text + parser->next;
    while (*at == ' ' || *at == '\t')
        at++;
    const char *end = at;

    if (*at == '\0') {
        parser->kind = TOKEN_END;
    } else if (starts_number(at)) {
        char *number_end;
        parser->kind = TOKEN_NUMBER;
        parser->number = g_ascii_strtod(at, &number_end);
        end = number_end;
    } else if (is_word_byte(*at)) {
        parser->kind = TOKEN_WORD;
        while (*end != '\0' && is_word_byte(*end))
            end++;
    } else {
        parser->kind = TOKEN_SIGN;
        end = at + ((*at == '<' || *at == '>') && at[1] == '=' ? 2 : 1);
    }
    g_free(parser->text);
    parser->text = g_strndup(at, (gsize)(end - at));
    parser->start = (gsize)(at - text);
    parser->next = (gsize)(end - text);
}

static advice_place token_place(const condition_parser *parser)
{
    return advice_value_place(parser->value, parser->start);
}

/* Adds a problem at the token and returns NULL, as the parse functions do. */
static advice_node *expected(const condition_parser *parser, const char *what)
{
    if (parser->kind == TOKEN_END)
        advice_problems_add(parser->problems, token_place(parser), "expected %s, found the end of the value", what);
    else
        advice_problems_add(parser->problems, token_place(parser), "expected %s, found \"%s\"", what, parser->text);
    return NULL;
}

static gboolean at_text(const condition_parser *parser, const char *text)
{
    return parser->kind != TOKEN_END && strcmp(parser->text, text) == 0;
}

/* ---- nodes ------------------------------------------------------------------------------------------------------- */

static void free_node(gpointer data)
{
    advice_node_free(data);
}

static advice_node *new_node(advice_node_kind kind)
{
    advice_node *node = g_new0(advice_node, 1);

    node->kind = kind;
    return node;
}

static advice_node *new_parent(advice_node_kind kind, advice_node *child)
{
    advice_node *node = new_node(kind);

    node->children = g_ptr_array_new_with_free_func(free_node);
    g_ptr_array_add(node->children, child);
    return node;
}

void advice_node_free(advice_node *node)
{
    if (node == NULL)
        return;
    g_clear_pointer(&node->children, g_ptr_array_unref);
    g_clear_pointer(&node->vowels, g_ptr_array_unref);
    g_free(node->text);
    g_free(node->quantity_name);
    g_free(node->setting);
    g_free(node);
}

void advice_node_walk(const advice_node *node, void (*visit)(const advice_node *node, void *data), void *data)
{
    visit(node, data);
    for (guint i = 0; node->children != NULL && i < node->children->len; i++)
        advice_node_walk(g_ptr_array_index(node->children, i), visit, data);
}

/* ---- leaves ------------------------------------------------------------------------------------------------------ */

/* A number with its unit or a note's name, at the token; the token moves on. what: what to say when it is neither. */
static gboolean parse_amount(condition_parser *parser, const char *what, double *number, advice_unit *unit)
{
    int midi;

    if (parser->kind == TOKEN_WORD && aperta_pitch_parse(parser->text, &midi)) {
        *number = midi;
        *unit = ADVICE_UNIT_PITCH;
        read_token(parser);
        return TRUE;
    }
    if (parser->kind != TOKEN_NUMBER || !isfinite(parser->number)) {
        expected(parser, what);
        return FALSE;
    }
    *number = parser->number;
    *unit = ADVICE_UNIT_NUMBER;
    read_token(parser);
    for (advice_unit i = ADVICE_UNIT_HZ; i < ADVICE_UNIT_PITCH; i++) {
        if (at_text(parser, advice_unit_word(i))) {
            *unit = i;
            read_token(parser);
            break;
        }
    }
    return TRUE;
}

static gboolean parse_operator(condition_parser *parser, advice_operator *operation)
{
    static const char *const signs[] = {"<", "<=", ">", ">="};

    for (gsize i = 0; i < G_N_ELEMENTS(signs); i++) {
        if (at_text(parser, signs[i])) {
            *operation = (advice_operator)i;
            read_token(parser);
            return TRUE;
        }
    }
    expected(parser, "a comparison (<, <=, > or >=)");
    return FALSE;
}

/* A setting's name begins with a letter and has no vowel signs; note names were tried before. */
static gboolean is_name(const char *word)
{
    if (!g_ascii_isalpha(word[0]))
        return FALSE;
    for (; *word != '\0'; word++)
        if (!g_ascii_isalnum(*word) && *word != '_' && *word != '-')
            return FALSE;
    return TRUE;
}

static gboolean parse_limit(condition_parser *parser, advice_node *node)
{
    advice_unit wanted = advice_quantity_unit(&node->quantity);
    advice_unit unit;
    int midi;

    node->limit_at = token_place(parser);
    if (parser->kind == TOKEN_WORD && is_name(parser->text) && !aperta_pitch_parse(parser->text, &midi)) {
        node->setting = g_strdup(parser->text);
        read_token(parser);
        return TRUE;
    }
    g_autofree char *what = g_strdup_printf(
        wanted == ADVICE_UNIT_PITCH ? "%s or a setting" : "a number in %s or a setting", advice_unit_word(wanted));
    g_autofree char *found = g_strdup(parser->text);
    if (!parse_amount(parser, what, &node->number, &unit))
        return FALSE;
    if (unit == wanted)
        return TRUE;
    if (unit == ADVICE_UNIT_NUMBER) {
        g_autofree char *unit_wanted =
            g_strdup_printf(wanted == ADVICE_UNIT_PITCH ? "%s instead of \"%s\"" : "the unit %s behind \"%s\"",
                            advice_unit_word(wanted), found);
        expected(parser, unit_wanted);
    } else {
        advice_problems_add(parser->problems, node->limit_at, "expected %s, found one in %s", what,
                            advice_unit_word(unit));
    }
    return FALSE;
}

static advice_node *parse_compare(condition_parser *parser, const advice_quantity *quantity, const char *name)
{
    advice_node *node = new_node(ADVICE_COMPARE);

    node->quantity = *quantity;
    node->quantity_name = g_strdup(name);
    if (!parse_operator(parser, &node->operation) || !parse_limit(parser, node)) {
        advice_node_free(node);
        return NULL;
    }
    return node;
}

/* Takes the word at the token; *index: which of words it is. */
static gboolean parse_one_of(condition_parser *parser, const char *const *words, int *index)
{
    for (int i = 0; words[i] != NULL; i++) {
        if (at_text(parser, words[i])) {
            *index = i;
            read_token(parser);
            return TRUE;
        }
    }
    g_autofree char *list = g_strjoinv(", ", (char **)words);
    g_autofree char *what = g_strconcat("one of ", list, NULL);
    expected(parser, what);
    return FALSE;
}

static advice_node *parse_is(condition_parser *parser, advice_node_kind kind, const char *const *words)
{
    int word;

    if (!at_text(parser, "is"))
        return expected(parser, "\"is\"");
    read_token(parser);
    if (!parse_one_of(parser, words, &word))
        return NULL;
    advice_node *node = new_node(kind);
    node->word = word;
    return node;
}

static advice_node *parse_voice(condition_parser *parser)
{
    aperta_voice voice;

    if (!at_text(parser, "is"))
        return expected(parser, "\"is\"");
    read_token(parser);
    if (parser->kind != TOKEN_WORD || !aperta_voice_parse(parser->text, &voice))
        return expected(parser, "a voice (woman, man, child, soprano, mezzo, alto, tenor, baritone, bass)");
    read_token(parser);
    advice_node *node = new_node(ADVICE_VOICE);
    node->word = (int)voice;
    return node;
}

static advice_node *parse_vowel(condition_parser *parser)
{
    if (at_text(parser, "is"))
        return parse_is(parser, ADVICE_VOWEL_CLASS, class_words);
    if (!at_text(parser, "in"))
        return expected(parser, "\"is\" or \"in\"");
    advice_node *node = new_node(ADVICE_VOWEL_LIST);
    node->vowels = g_ptr_array_new();
    do {
        read_token(parser);
        const aperta_vowel *vowel = parser->kind == TOKEN_WORD ? aperta_vowel_parse(parser->text) : NULL;
        if (vowel == NULL) {
            advice_node_free(node);
            return expected(parser, "a vowel in IPA or respelled (ɛ or eh)");
        }
        g_ptr_array_add(node->vowels, (gpointer)vowel);
        read_token(parser);
    } while (at_text(parser, ","));
    return node;
}

static advice_node *expected_quantity(condition_parser *parser, const char *word)
{
    static const char *const names[] = {"pitch",        "f0",       "f1",           "f2",
                                        "f3",           "f1_to_f0", "f1_to_2f0",    "f2_to_3f0",
                                        "f1_to_spoken", "duration", "vibrato_rate", "vibrato_extent",
                                        "vowel",        "voice",    "vibrato",      "shape"};
    g_autofree char *hint = aperta_name_hint(word, names, G_N_ELEMENTS(names));

    advice_problems_add(
        parser->problems, token_place(parser),
        "expected pitch, f0, f1, f2, f3, f1_to_f0, f1_to_2f0 ..., f1_to_spoken, duration, vibrato_rate, "
        "vibrato_extent, vowel, voice, vibrato or shape, found \"%s\"%s",
        word, hint);
    return NULL;
}

static advice_node *parse_measure(condition_parser *parser, const char *word)
{
    advice_quantity quantity;

    if (!advice_quantity_parse(word, &quantity))
        return expected_quantity(parser, word);
    read_token(parser);
    if (quantity.kind != ADVICE_RESONANCE || !at_text(parser, "is"))
        return parse_compare(parser, &quantity, word);
    advice_node *node = parse_is(parser, ADVICE_STATUS, status_words);
    if (node != NULL) {
        node->quantity = quantity;
        node->quantity_name = g_strdup(word);
    }
    return node;
}

static advice_node *parse_subject(condition_parser *parser, const char *word)
{
    static const char *const subjects[] = {"vowel", "voice", "shape", "vibrato"};
    gsize subject = 0;

    while (subject < G_N_ELEMENTS(subjects) && strcmp(word, subjects[subject]) != 0)
        subject++;
    if (subject == G_N_ELEMENTS(subjects))
        return parse_measure(parser, word);
    read_token(parser);
    switch (subject) {
    case 0:
        return parse_vowel(parser);
    case 1:
        return parse_voice(parser);
    case 2:
        return parse_is(parser, ADVICE_SHAPE, shape_words);
    default:
        return parse_is(parser, ADVICE_VIBRATO, vibrato_words);
    }
}

static advice_node *parse_leaf(condition_parser *parser)
{
    if (parser->kind != TOKEN_WORD)
        return expected(parser, "a condition (such as pitch >= A4, or vowel is close)");
    g_autofree char *word = g_strdup(parser->text);
    gsize start = parser->start;
    advice_node *node = parse_subject(parser, word);
    if (node != NULL)
        node->text = g_strchomp(g_strndup(parser->value->text + start, parser->start - start));
    return node;
}

/* ---- and, or, not ------------------------------------------------------------------------------------------------ */

static advice_node *parse_any(condition_parser *parser);

static advice_node *parse_one(condition_parser *parser);

static advice_node *parse_not(condition_parser *parser)
{
    read_token(parser);
    advice_node *child = parse_one(parser);
    return child == NULL ? NULL : new_parent(ADVICE_NOT, child);
}

static advice_node *parse_parentheses(condition_parser *parser)
{
    read_token(parser);
    advice_node *node = parse_any(parser);
    if (node == NULL)
        return NULL;
    if (!at_text(parser, ")")) {
        advice_node_free(node);
        return expected(parser, "\"and\", \"or\" or \")\"");
    }
    read_token(parser);
    return node;
}

static advice_node *parse_one(condition_parser *parser)
{
    advice_node *node;

    if (parser->nesting == ADVICE_NESTING_MAX)
        return expected(parser, "fewer parentheses inside each other");
    parser->nesting++;
    if (at_text(parser, "not"))
        node = parse_not(parser);
    else if (at_text(parser, "("))
        node = parse_parentheses(parser);
    else
        node = parse_leaf(parser);
    parser->nesting--;
    return node;
}

/* A list of what parse reads, joined by word; a single one stays as it is. */
static advice_node *parse_chain(condition_parser *parser, const char *word, advice_node_kind kind,
                                advice_node *(*parse)(condition_parser *parser))
{
    advice_node *first = parse(parser);
    if (first == NULL || !at_text(parser, word))
        return first;
    advice_node *node = new_parent(kind, first);
    while (at_text(parser, word)) {
        read_token(parser);
        advice_node *child = parse(parser);
        if (child == NULL) {
            advice_node_free(node);
            return NULL;
        }
        g_ptr_array_add(node->children, child);
    }
    return node;
}

static advice_node *parse_all(condition_parser *parser)
{
    return parse_chain(parser, "and", ADVICE_AND, parse_one);
}

static advice_node *parse_any(condition_parser *parser)
{
    return parse_chain(parser, "or", ADVICE_OR, parse_all);
}

advice_node *advice_condition_parse(const advice_value *value, advice_problems *problems)
{
    condition_parser parser = {.value = value, .problems = problems};

    read_token(&parser);
    advice_node *node = parse_any(&parser);
    if (node != NULL && parser.kind != TOKEN_END) {
        advice_node_free(node);
        node = expected(&parser, "\"and\", \"or\" or the end of the condition");
    }
    g_free(parser.text);
    return node;
}

gboolean advice_amount_parse(const advice_value *value, double *number, advice_unit *unit, gsize *rest,
                             advice_problems *problems)
{
    condition_parser parser = {.value = value, .problems = problems};

    read_token(&parser);
    gboolean good = parse_amount(&parser, "a number with its unit, or a note name", number, unit);
    *rest = parser.start;
    g_free(parser.text);
    return good;
}
