# Language, warnings and hardening, the same for library, tool and tests.
set(CMAKE_C_STANDARD 17)
set(CMAKE_C_STANDARD_REQUIRED ON)
set(CMAKE_C_EXTENSIONS OFF)
set(CMAKE_POSITION_INDEPENDENT_CODE ON)

option(UNDERSILL_WERROR "Treat warnings as errors" OFF)

add_library(undersill_flags INTERFACE)
# POSIX 2008 beside C17: open_memstream, fsync, strdup.
target_compile_definitions(undersill_flags INTERFACE _POSIX_C_SOURCE=200809L _XOPEN_SOURCE=700)
target_compile_options(undersill_flags INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion -Wdouble-promotion
  -Wstrict-prototypes -Wmissing-prototypes -Wvla -Wformat=2
  -ffp-contract=off -fstack-protector-strong
  $<$<BOOL:${UNDERSILL_WERROR}>:-Werror>
  $<$<NOT:$<CONFIG:Debug>>:-D_FORTIFY_SOURCE=2>)
target_link_options(undersill_flags INTERFACE -Wl,-z,relro -Wl,-z,now)
