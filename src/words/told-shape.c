/* told-shape.c - a shape's name, and how it is made. */
#include "words/words.h"

char *aperta_shape_name(const aperta_shape *shape)
{
    const char *respelling = shape->vowel->respelling;

    if (shape->before != NULL)
        return g_strdup_printf("between %s and %s", shape->before->respelling, respelling);
    if (shape->jaw_wide)
        return g_strdup_printf("%s, jaw wide", respelling);
    return shape->vowel == shape->from ? g_strdup_printf("%s, jaw a little wider", respelling) : g_strdup(respelling);
}

char *words_shape_brief(const aperta_shape *shape)
{
    const char *ipa = shape->vowel->ipa;

    if (shape->before != NULL)
        return aperta_shape_name(shape);
    if (shape->jaw_wide)
        return g_strdup_printf("%s, jaw wide", ipa);
    return shape->vowel == shape->from ? g_strdup_printf("%s, jaw a little wider", ipa) : g_strdup(ipa);
}

gboolean words_shapes_named_alike(const aperta_shape *one, const aperta_shape *other)
{
    return one->vowel == other->vowel && one->before == other->before && one->jaw_wide == other->jaw_wide &&
           (one->vowel == one->from) == (other->vowel == other->from);
}

static char *jaw_sentence(const aperta_shape *shape)
{
    gboolean last = shape->jaw_last;
    const char *to = shape->vowel->respelling;

    switch (shape->jaw) {
    case APERTA_JAW_WIDE:
        return g_strdup(last ? "Then the jaw: lower than in speech, easy, not pushed forward."
                             : "Jaw: lower than in speech, easy, not pushed forward.");
    case APERTA_JAW_FALLS_TO:
        return g_strdup_printf(last ? "Then the jaw: let it fall to “%s”." : "Jaw: let it fall to “%s”.", to);
    case APERTA_JAW_FALLS:
        return g_strdup_printf(last ? "Then the jaw: let it fall from “%s” toward “%s”."
                                    : "Jaw: let it fall from “%s” toward “%s”.",
                               shape->from->respelling, to);
    default:
        return g_strdup(last ? "Then the jaw: a touch lower than in speech." : "Jaw: a touch lower than in speech.");
    }
}

static const char *tongue_sentence(aperta_tongue tongue)
{
    switch (tongue) {
    case APERTA_TONGUE_OUT_OF_R:
        return "Tongue: down out of the r; the r may return at the very end.";
    case APERTA_TONGUE_FORWARD:
        return "Tongue: forward, tip behind the lower teeth, its middle lower.";
    case APERTA_TONGUE_FLAT:
        return "Tongue: flat and easy.";
    default:
        return "Tongue: low and easy, a little back.";
    }
}

static const char *lips_sentence(aperta_lips lips)
{
    switch (lips) {
    case APERTA_LIPS_ROUND:
        return "Lips: softly round, the opening larger.";
    case APERTA_LIPS_UNROUND:
        return "Lips: out of the rounding.";
    case APERTA_LIPS_NO_SMILE:
        return "Lips: easy; a smile does not open this vowel.";
    default:
        return "Lips: easy.";
    }
}

char *aperta_shape_how(const aperta_shape *shape)
{
    g_autofree char *jaw = jaw_sentence(shape);
    const char *tongue = tongue_sentence(shape->tongue), *lips = lips_sentence(shape->lips);
    gboolean to_another = shape->from != NULL && shape->vowel != shape->from;
    const char *mind = to_another ? "Keep the vowel of the word in mind." : NULL;

    return shape->jaw_last ? g_strjoin(" ", tongue, lips, jaw, mind, NULL)
                           : g_strjoin(" ", jaw, tongue, lips, mind, NULL);
}

words_jaws words_jaws_of(const GPtrArray *findings)
{
    guint n_wide = 0;

    for (guint i = 0; i < findings->len; i++) {
        const aperta_shape *shape = aperta_finding_at(findings, i)->shape;
        n_wide += shape != NULL && shape->jaw_wide;
    }
    if (n_wide == 0)
        return WORDS_JAWS_AS_SPOKEN;
    return n_wide == findings->len ? WORDS_JAWS_WIDE : WORDS_JAWS_WIDE_ABOVE;
}
