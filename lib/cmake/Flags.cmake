# Language, warnings and hardening, the same for library, tool and tests.
set(CMAKE_C_STANDARD 17)
set(CMAKE_C_STANDARD_REQUIRED ON)
set(CMAKE_C_EXTENSIONS OFF)
set(CMAKE_POSITION_INDEPENDENT_CODE ON)
include(CheckCCompilerFlag)
include(CheckCSourceCompiles)
include(CheckPIESupported)
check_pie_supported(LANGUAGES C) # else programs are linked as the compiler pleases

option(UNDERSILL_WERROR "Treat warnings as errors" OFF)
if(NOT CMAKE_BUILD_TYPE AND NOT CMAKE_CONFIGURATION_TYPES)
  set(CMAKE_BUILD_TYPE Release CACHE STRING "Release, Debug, ..." FORCE)
endif()

add_library(undersill_flags INTERFACE)
# POSIX 2008 beside C17: open_memstream, fsync, strdup.
target_compile_definitions(undersill_flags INTERFACE _POSIX_C_SOURCE=200809L _XOPEN_SOURCE=700)
target_compile_options(undersill_flags INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion
  -Wstrict-prototypes -Wmissing-prototypes -Wvla -Wformat=2
  # clang takes the NAN and HUGE_VAL of glibc for promoted floats.
  $<$<C_COMPILER_ID:GNU>:-Wdouble-promotion>
  -ffp-contract=off
  $<$<BOOL:${UNDERSILL_WERROR}>:-Werror>)

# Hardening. What a compiler or processor does not know is left out.
target_compile_options(undersill_flags INTERFACE -fstack-protector-strong)
foreach(flag -fstack-clash-protection -fcf-protection=full)
  string(MAKE_C_IDENTIFIER "UNDERSILL_HAS${flag}" known)
  check_c_compiler_flag(${flag} ${known})
  if(${known})
    target_compile_options(undersill_flags INTERFACE ${flag})
  endif()
endforeach()
# Level 3 also knows sizes that are only fixed at run time; glibc warns where it
# falls back. It needs an optimising build.
set(CMAKE_REQUIRED_FLAGS "-O2 -Werror -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=3")
check_c_source_compiles("#include <stdio.h>\nint main(void) { return 0; }" UNDERSILL_HAS_FORTIFY_3)
unset(CMAKE_REQUIRED_FLAGS)
if(UNDERSILL_HAS_FORTIFY_3)
  set(level 3)
else()
  set(level 2)
endif()
target_compile_options(undersill_flags INTERFACE
  $<$<NOT:$<CONFIG:Debug>>:-U_FORTIFY_SOURCE>
  $<$<NOT:$<CONFIG:Debug>>:-D_FORTIFY_SOURCE=${level}>)
target_link_options(undersill_flags INTERFACE -Wl,-z,relro -Wl,-z,now -Wl,-z,noexecstack)
