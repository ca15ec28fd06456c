/* Section files and streams into sections. */
#include <sha2.h>
#include <stdlib.h>
#include <string.h>

#include "input/cases.h"
#include "input/change.h"
#include "input/decode.h"
#include "input/supply.h"
#include "input/text.h"
#include "model/build.h"

/* Of the text, then of the table of cases and of each change as a line of its own. */
static void digest(const usi_origin *origin, char *hex)
{
    SHA2_CTX state;
    SHA256Init(&state);
    SHA256Update(&state, (const uint8_t *)origin->text, origin->length);
    if (origin->cases != NULL) {
        SHA256Update(&state, (const uint8_t *)"\n", 1);
        SHA256Update(&state, (const uint8_t *)origin->cases, origin->cases_length);
    }
    for (size_t i = 0; i < origin->change_count; i++) {
        const usi_origin_change *change = &origin->changes[i];
        SHA256Update(&state, (const uint8_t *)"\n", 1);
        SHA256Update(&state, (const uint8_t *)change->key, strlen(change->key));
        SHA256Update(&state, (const uint8_t *)"=", 1);
        SHA256Update(&state, (const uint8_t *)change->text, strlen(change->text));
    }
    (void)SHA256End(&state, hex);
}

static us_status read_into(us_context *context, const usi_origin *origin, usi_arena *arena,
                           us_section **section)
{
    usi_source source = {origin->name, origin->text, origin->length};
    usi_raw_section raw = {.source = source, .errors_before = usi_context_error_count(context)};
    if (!usi_text_check(context, &source, USI_TEXT_SECTION)) {
        return US_ERROR_INPUT;
    }
    usi_node *root = usi_tree_read(context, &source, arena);
    if (root == NULL || !usi_change_apply(context, &source, arena, root, origin)) {
        return arena->failed ? US_ERROR_MEMORY : US_ERROR_INPUT;
    }
    usi_reader reader = {
        .context = context, .source = &source, .arena = arena, .with_cases = origin->cases != NULL};
    digest(origin, raw.sha256);
    raw.at = usi_scalar_mark(root, NULL);
    usi_decode_units(&reader, root, &raw.units);
    usi_decode_mapping(&reader, root, "", usi_schema_section(), &raw);
    usi_source table = {origin->cases_name, origin->cases, origin->cases_length};
    if (reader.with_cases) {
        usi_cases_read(&reader, &table, &raw.waters);
    }
    return arena->failed ? US_ERROR_MEMORY : usi_section_build(context, &raw, section);
}

static us_status read_origin(us_context *context, const usi_origin *origin, us_section **section)
{
    usi_arena arena = {.context = context};
    us_status status = read_into(context, origin, &arena, section);
    usi_arena_clear(&arena);
    return status;
}

/* `cases` NULL: none. */
static us_status read_bytes(us_context *context, const usi_bytes *from, const usi_bytes *cases,
                            us_section **section)
{
    /* Only looked at; it is copied once there is a section to keep it. */
    usi_origin origin = {
        .name = (char *)from->name, .text = (char *)from->text, .length = from->length};
    if (cases != NULL) {
        origin.cases_name = (char *)cases->name;
        origin.cases = (char *)cases->text;
        origin.cases_length = cases->length;
    }
    us_section *made = NULL;
    us_status status = read_origin(context, &origin, &made);
    if (status == US_OK) {
        status = usi_change_gather(context, &origin, NULL, 0, &made->origin);
    }
    if (status != US_OK) {
        us_section_free(made);
        return status;
    }
    *section = made;
    return US_OK;
}

us_status us_section_read_cases(us_context *context, const us_input *section, const us_input *cases,
                                us_section **made)
{
    if (context == NULL || made == NULL || !usi_supply_is_one(section) ||
        (cases != NULL && !usi_supply_is_one(cases))) {
        return US_ERROR_ARGUMENT;
    }
    usi_bytes text = {0};
    usi_bytes table = {0};
    us_status status = usi_supply_read(context, section, USI_TEXT_SECTION, &text);
    if (status == US_OK && cases != NULL) {
        status = usi_supply_read(context, cases, USI_TEXT_TABLE, &table);
    }
    if (status == US_OK) {
        status = read_bytes(context, &text, cases != NULL ? &table : NULL, made);
    }
    free(text.owned);
    free(table.owned);
    return status;
}

us_status us_section_read(us_context *context, const char *text, size_t length, const char *name,
                          us_section **section)
{
    us_input from = {.text = text, .length = length, .name = name};
    return us_section_read_cases(context, &from, NULL, section);
}

us_status us_section_read_stream(us_context *context, FILE *stream, const char *name,
                                 us_section **section)
{
    us_input from = {.stream = stream, .name = name};
    return us_section_read_cases(context, &from, NULL, section);
}

us_status us_section_read_file(us_context *context, const char *path, us_section **section)
{
    us_input from = {.path = path};
    return us_section_read_cases(context, &from, NULL, section);
}

us_status us_section_vary(us_context *context, const us_section *section, const us_change *changes,
                          size_t count, us_section **variant)
{
    if (context == NULL || section == NULL || variant == NULL || (changes == NULL && count > 0)) {
        return US_ERROR_ARGUMENT;
    }
    usi_origin origin;
    us_section *made = NULL;
    us_status status = usi_change_gather(context, &section->origin, changes, count, &origin);
    if (status == US_OK) {
        status = read_origin(context, &origin, &made);
    }
    if (status != US_OK) {
        usi_origin_free(&origin);
        return status;
    }
    made->origin = origin;
    *variant = made;
    return US_OK;
}
