/* What the fuzz targets share. A target is a function that takes any bytes;
 * clang's libFuzzer makes the bytes up, replay.c takes them from files. */
#ifndef TESTS_FUZZ_TARGET_H
#define TESTS_FUZZ_TARGET_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "undersill/undersill.h"

/* The name is libFuzzer's. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Ends the process with a message unless `holds`: a finding. */
#define require(holds, message) fuzz_require((holds), (message), __FILE__, __LINE__)
void fuzz_require(bool holds, const char *message, const char *file, int line);

/* Holds what every call promises of its messages: an error exactly when it
 * failed, each with words that can be printed. */
void fuzz_require_messages(const us_context *context, us_status status);

/* Holds a value and its error to be numbers, and those of an absent one to be nothing. */
void fuzz_require_value(us_value value);

/* Holds a text for people to be UTF-8 without control codes but line ends. */
void fuzz_require_printable(const void *text, size_t length);

#endif
