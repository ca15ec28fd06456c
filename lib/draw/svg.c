/* The last hand on an SVG: what Cairo's writer leaves out or leaves to chance. */
#include <inttypes.h>
#include <string.h>

#include "base/buffer.h"
#include "draw/phrase.h"
#include "draw/picture.h"
#include "undersill/version.h"

/* `text` with the signs of XML escaped; code points that XML forbids are no part
 * of a name (see the reader). */
static void add_escaped(us_buffer *svg, const char *text)
{
    for (;;) {
        size_t plain = strcspn(text, "&<>");
        usi_buffer_add(svg, text, plain);
        text += plain;
        if (*text == '\0') {
            return;
        }
        usi_buffer_add_text(svg, *text == '&' ? "&amp;" : *text == '<' ? "&lt;" : "&gt;");
        text++;
    }
}

/* Letters are outlines: the description holds the words, for readers who search
 * or listen. */
static void add_description(us_buffer *svg, const usi_scene *scene, const usi_words *words)
{
    usi_buffer_add_text(svg, "\n<title>");
    add_escaped(svg, words->title[0] != '\0' ? words->title : words->subject);
    usi_buffer_add_text(svg, "</title>\n<desc>");
    add_escaped(svg, words->subject);
    usi_buffer_print(svg, "\nUndersill " US_VERSION ", input SHA-256 %s\n", words->digest);
    for (size_t i = 0; i < scene->text_count; i++) {
        usi_buffer_add_text(svg, "\n");
        add_escaped(svg, scene->texts[i].words);
    }
    usi_buffer_add_text(svg, "\n</desc>");
}

static uint32_t stir(uint32_t hash, const char *text)
{
    for (; *text != '\0'; text++) {
        hash = (hash ^ (unsigned char)*text) * 16777619U; /* FNV-1a */
    }
    return hash;
}

/* Length of a mark at `text` behind which an id stands, else 0. */
static size_t mark_length(const char *text)
{
    static const char *const marks[] = {" id=\"", "href=\"#", "url(#"};
    for (size_t i = 0; i < sizeof marks / sizeof marks[0]; i++) {
        if (strncmp(text, marks[i], strlen(marks[i])) == 0) {
            return strlen(marks[i]);
        }
    }
    return 0;
}

/* Copies marked-up text with `prefix` before every id. Cairo numbers its
 * surfaces through the life of the process: that number is left out. */
static void add_with_prefix(us_buffer *svg, const char *text, const char *prefix)
{
    static const char counted[] = "surface";
    const char *start = text;
    while (*text != '\0') {
        size_t length = mark_length(text);
        text += length > 0 ? length : 1;
        if (length == 0) {
            continue;
        }
        usi_buffer_add(svg, start, (size_t)(text - start));
        usi_buffer_add_text(svg, prefix);
        if (strncmp(text, counted, sizeof counted - 1) == 0) {
            usi_buffer_add_text(svg, counted);
            text += sizeof counted - 1;
            text += strspn(text, "0123456789");
        }
        start = text;
    }
    usi_buffer_add_text(svg, start);
}

us_status usi_svg_finish(const usi_scene *scene, const usi_words *words, const us_buffer *raw,
                         us_buffer **result)
{
    us_buffer *svg = usi_buffer_create(scene->context);
    const char *text = us_buffer_data(raw);
    const char *root = strstr(text, "<svg");
    const char *body = root != NULL ? strchr(root, '>') : NULL;
    if (body != NULL) {
        body++;
        usi_buffer_add(svg, text, (size_t)(body - text));
        add_description(svg, scene, words);
    } else {
        body = text;
    }
    uint32_t hash = stir(stir(2166136261U, words->digest), words->subject);
    usi_phrase prefix = usi_phrase_print("us%08" PRIx32 "-", hash);
    add_with_prefix(svg, body, prefix.text);
    return usi_buffer_finish(svg, result);
}
