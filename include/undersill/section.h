/* The section: soil, structure, walls and water, read from a section file. */
#ifndef UNDERSILL_SECTION_H
#define UNDERSILL_SECTION_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "undersill/buffer.h"

#ifdef __cplusplus
extern "C" {
#endif

/** A checked vertical section. Immutable: may be read by several threads. */
typedef struct us_section us_section;

/** Reads a section from YAML text in memory.
 *
 * `text` has `length` bytes of UTF-8, at most 1 MiB, and needs no NUL at its end.
 * `name` is what diagnostics call the text (a file name, say); NULL stands for
 * `-`. Both are copied. docs/section-file.md names every key.
 *
 * On `US_OK`, `*section` is the caller's: free it with us_section_free(). On
 * `US_ERROR_INPUT` the diagnostics list every mistake found, each with line,
 * column and key. Other statuses: `US_ERROR_ARGUMENT`, `US_ERROR_MEMORY`.
 * Notes (defaults taken, parts that do not count) are kept with the section.
 *
 * @code
 * const char *text = "bed: {upstream: 10, downstream: 10}\n"
 *                    "base: 0\n"
 *                    "walls: [{name: sheet, x: 0, top: 11, tip: 6}]\n"
 *                    "soils: [{name: sand, kh: 1e-4, unit_weight: 20}]\n"
 *                    "water: [{name: high, upstream: 13, downstream: 11}]\n";
 * us_section *read = NULL;
 * if (us_section_read(context, text, strlen(text), "mine", &read) == US_OK) {
 *     printf("%zu water case\n", us_section_water_count(read));
 * }
 * us_section_free(read);
 * @endcode
 */
US_API us_status us_section_read(us_context *context, const char *text, size_t length,
                                 const char *name, us_section **section);

/** Reads a section from the file `path`.
 *
 * The file is read once; it must be a regular one of at most 1 MiB. Ownership
 * and statuses as for us_section_read(); a file that cannot be read as a section
 * file (missing, a folder, a pipe, too long) is `US_ERROR_INPUT`. */
US_API us_status us_section_read_file(us_context *context, const char *path, us_section **section);

/** Reads a section from an open stream up to its end.
 *
 * At most 1 MiB; the stream stays open and is the caller's. `name`, ownership and
 * statuses as for us_section_read(). */
US_API us_status us_section_read_stream(us_context *context, FILE *stream, const char *name,
                                        us_section **section);

/** Where a text comes from: exactly one of `text`, `path` and `stream` is not NULL.
 * Initialise the others to NULL by `{.path = "reach.yaml"}` or the like. */
typedef struct us_input {
    /** `length` bytes in memory, without a NUL at their end. */
    const char *text;
    size_t length;
    /** A regular file. */
    const char *path;
    /** An open stream, read to its end and left open. */
    FILE *stream;
    /** What diagnostics call the text; NULL stands for the path, or `-`. */
    const char *name;
} us_input;

/** Reads a section together with a table of water cases.
 *
 * `section` is a section file as for us_section_read(), whose key `water` may be
 * missing here. `cases` is a CSV table by RFC 4180 with a header: columns `name`,
 * `upstream` and `downstream` as the keys of a water case, and, where wanted,
 * `discharge` and `return_period`; in any order. Its rows come after the cases of the
 * section; both together are at most 256. NULL stands for no table. The SHA-256 is
 * that of the file's bytes, a line break and the bytes of the table. us_section_vary()
 * keeps the rows as they are.
 *
 * Ownership and statuses as for us_section_read(); diagnostics name the text that they
 * point into.
 *
 * @code
 * us_input reach = {.text = "bed: {upstream: 10, downstream: 10}\n"
 *                           "base: 0\n"
 *                           "walls: [{name: sheet, x: 0, top: 11, tip: 6}]\n"
 *                           "soils: [{name: sand, kh: 1e-4, unit_weight: 20}]\n"};
 * us_input floods = {.text = "name,upstream,downstream\nhigh,13,11\nlow,11,at_bed\n"};
 * us_section *made = NULL;
 * reach.length = strlen(reach.text);
 * floods.length = strlen(floods.text);
 * if (us_section_read_cases(context, &reach, &floods, &made) == US_OK) {
 *     printf("%zu water cases\n", us_section_water_count(made));
 * }
 * us_section_free(made);
 * @endcode
 */
US_API us_status us_section_read_cases(us_context *context, const us_input *section,
                                       const us_input *cases, us_section **made);

/** One value that takes the place of what a section file says. */
typedef struct us_change {
    /** Dotted path, such as `bed.upstream`, `walls[1].tip` or
     * `structure.underside[0][1]`. Items of a list are counted from 0, or called
     * by their name: `walls[toe].tip`. A key that the file leaves to its default
     * may be given here too. Never NULL. */
    const char *key;
    /** What the file would say there, such as `46.8`, `12 ft` or `at_bed`; or
     * NULL for the number `value`. */
    const char *text;
    /** Used where `text` is NULL: a finite number in the unit that the file has
     * for bare numbers. */
    double value;
} us_change;

/** Reads a variant: the section again, with some values changed.
 *
 * `changes` holds `count` entries, applied in turn; NULL is allowed when `count`
 * is 0. The variant is judged by all rules of a section file. Everything is
 * copied: `*variant` is the caller's (us_section_free()) and needs neither
 * `section` nor `changes` afterwards. A variant may be varied again; the
 * changes add up. Its SHA-256 in tables is that of the file's bytes followed,
 * for each change, by a line break and `key=text`.
 *
 * Returns `US_OK`, `US_ERROR_INPUT` (a change has no place, or the section that
 * comes out breaks a rule; see the diagnostics), `US_ERROR_ARGUMENT` (an empty
 * key or text, a number that is not finite) or `US_ERROR_MEMORY`. Several threads
 * may vary one section, each with its own context.
 *
 * @code
 * for (double tip_m = 7.0; tip_m >= 3.0; tip_m -= 2.0) {
 *     us_change change = {"walls[sheet].tip", NULL, tip_m};
 *     us_section *deeper = NULL;
 *     us_solution *solved = NULL;
 *     if (us_section_vary(context, section, &change, 1, &deeper) == US_OK &&
 *         us_section_solve(context, deeper, NULL, &solved) == US_OK) {
 *         printf("%.1f %.3f\n", tip_m, us_solution_water(solved, 0)->exit.gradient.value);
 *     }
 *     us_solution_free(solved);
 *     us_section_free(deeper);
 * }
 * @endcode
 */
US_API us_status us_section_vary(us_context *context, const us_section *section,
                                 const us_change *changes, size_t count, us_section **variant);

/** Frees a section; NULL is allowed. */
US_API void us_section_free(us_section *section);

/** Gives the title of a section: UTF-8, "" without one. Lives as long as the
 * section. */
US_API const char *us_section_title(const us_section *section);

/** Gives the SHA-256 of what a section was read from, as 64 hexadecimal digits.
 * Lives as long as the section; us_section_vary() says what is summed up for a
 * variant. */
US_API const char *us_section_sha256(const us_section *section);

/** Tells whether water flows to the left, that is whether upstream is on the
 * right: true for `flow_toward: left`. */
US_API bool us_section_flows_left(const us_section *section);

/** Gives the channel width in metres; 0 where the section names none. */
US_API double us_section_width(const us_section *section);

/** Counts the water cases of a section, at least 1. */
US_API size_t us_section_water_count(const us_section *section);

/** Gives the name of water case `index`, counted from 0; NULL when out of range.
 * Lives as long as the section. */
US_API const char *us_section_water_name(const us_section *section, size_t index);

/** Explains a section as it was understood, as `undersill check` prints it.
 *
 * A text for people, in the section's own units, with every default that was
 * taken. `*text` is the caller's (us_buffer_free()). Returns `US_OK`,
 * `US_ERROR_ARGUMENT` or `US_ERROR_MEMORY`.
 *
 * @code
 * us_buffer *said = NULL;
 * if (us_section_explain(context, section, &said) == US_OK) {
 *     printf("%s", (const char *)us_buffer_data(said));
 * }
 * us_buffer_free(said);
 * @endcode
 */
US_API us_status us_section_explain(us_context *context, const us_section *section,
                                    us_buffer **text);

#ifdef __cplusplus
}
#endif
#endif
