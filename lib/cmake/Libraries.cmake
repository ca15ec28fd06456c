# The libraries Undersill stands on, each as an imported target.
find_package(PkgConfig REQUIRED)
pkg_check_modules(YAML REQUIRED IMPORTED_TARGET yaml-0.1)
pkg_check_modules(JANSSON REQUIRED IMPORTED_TARGET jansson)
pkg_check_modules(CAIRO REQUIRED IMPORTED_TARGET cairo pangocairo)
pkg_check_modules(PNG REQUIRED IMPORTED_TARGET libpng)
pkg_check_modules(MD REQUIRED IMPORTED_TARGET libmd)

# SuiteSparse of Debian 12 ships neither a CMake nor a pkg-config file.
find_path(CHOLMOD_INCLUDE_DIR cholmod.h PATH_SUFFIXES suitesparse REQUIRED)
find_library(CHOLMOD_LIBRARY cholmod REQUIRED)
add_library(undersill_cholmod INTERFACE)
target_include_directories(undersill_cholmod SYSTEM INTERFACE "${CHOLMOD_INCLUDE_DIR}")
target_link_libraries(undersill_cholmod INTERFACE "${CHOLMOD_LIBRARY}")
