# What `cmake --install` puts where. The static library stays behind: it would
# show internal functions and ask its users for CHOLMOD, which has no
# pkg-config file.
include(CMakePackageConfigHelpers)

install(TARGETS undersill RUNTIME DESTINATION "${CMAKE_INSTALL_BINDIR}")
install(TARGETS undersill_shared EXPORT undersillTargets
  LIBRARY DESTINATION "${CMAKE_INSTALL_LIBDIR}")
install(DIRECTORY "${PROJECT_SOURCE_DIR}/include/undersill"
  DESTINATION "${CMAKE_INSTALL_INCLUDEDIR}" FILES_MATCHING PATTERN "*.h")

# find_package(undersill), target undersill::undersill.
set(UNDERSILL_PACKAGE_DIR "${CMAKE_INSTALL_LIBDIR}/cmake/undersill")
install(EXPORT undersillTargets NAMESPACE undersill:: DESTINATION "${UNDERSILL_PACKAGE_DIR}")
configure_package_config_file("${CMAKE_CURRENT_LIST_DIR}/undersillConfig.cmake.in"
  "${PROJECT_BINARY_DIR}/undersillConfig.cmake"
  INSTALL_DESTINATION "${UNDERSILL_PACKAGE_DIR}"
  NO_SET_AND_CHECK_MACRO)
# Before 1.0 a new minor release may change what programs were written for.
write_basic_package_version_file("${PROJECT_BINARY_DIR}/undersillConfigVersion.cmake"
  COMPATIBILITY SameMinorVersion)
install(FILES "${PROJECT_BINARY_DIR}/undersillConfig.cmake"
  "${PROJECT_BINARY_DIR}/undersillConfigVersion.cmake"
  DESTINATION "${UNDERSILL_PACKAGE_DIR}")

# pkg-config undersill. The prefix is told from where the file lies, so that an
# installed tree may be moved; not where one of the folders was given outside it.
if(IS_ABSOLUTE "${CMAKE_INSTALL_LIBDIR}")
  set(UNDERSILL_PC_PREFIX "${CMAKE_INSTALL_PREFIX}")
  set(UNDERSILL_PC_LIBDIR "${CMAKE_INSTALL_LIBDIR}")
else()
  file(RELATIVE_PATH UNDERSILL_PC_UP "/${CMAKE_INSTALL_LIBDIR}/pkgconfig" "/")
  string(REGEX REPLACE "/$" "" UNDERSILL_PC_UP "${UNDERSILL_PC_UP}")
  set(UNDERSILL_PC_PREFIX "\${pcfiledir}/${UNDERSILL_PC_UP}")
  set(UNDERSILL_PC_LIBDIR "\${prefix}/${CMAKE_INSTALL_LIBDIR}")
endif()
if(IS_ABSOLUTE "${CMAKE_INSTALL_INCLUDEDIR}")
  set(UNDERSILL_PC_INCLUDEDIR "${CMAKE_INSTALL_INCLUDEDIR}")
else()
  set(UNDERSILL_PC_INCLUDEDIR "\${prefix}/${CMAKE_INSTALL_INCLUDEDIR}")
endif()
configure_file("${CMAKE_CURRENT_LIST_DIR}/undersill.pc.in"
  "${PROJECT_BINARY_DIR}/undersill.pc" @ONLY)
install(FILES "${PROJECT_BINARY_DIR}/undersill.pc"
  DESTINATION "${CMAKE_INSTALL_LIBDIR}/pkgconfig")

# Manual pages and completion, with the pages of the project beside its licence.
file(GLOB UNDERSILL_MAN_PAGES CONFIGURE_DEPENDS "${PROJECT_SOURCE_DIR}/docs/man/*.[1-9]")
foreach(page IN LISTS UNDERSILL_MAN_PAGES)
  string(REGEX REPLACE "^.*\\.([1-9])$" "\\1" chapter "${page}")
  install(FILES "${page}" DESTINATION "${CMAKE_INSTALL_MANDIR}/man${chapter}")
endforeach()
set(UNDERSILL_COMPLETION "${PROJECT_SOURCE_DIR}/cli/completion/undersill.bash")
if(EXISTS "${UNDERSILL_COMPLETION}")
  install(FILES "${UNDERSILL_COMPLETION}" RENAME undersill
    DESTINATION "${CMAKE_INSTALL_DATADIR}/bash-completion/completions")
endif()
install(FILES "${PROJECT_SOURCE_DIR}/README.md" "${PROJECT_SOURCE_DIR}/LICENSE"
  DESTINATION "${CMAKE_INSTALL_DOCDIR}")
install(DIRECTORY "${PROJECT_SOURCE_DIR}/docs" "${PROJECT_SOURCE_DIR}/examples"
  DESTINATION "${CMAKE_INSTALL_DOCDIR}" PATTERN man EXCLUDE PATTERN "*.sh" EXCLUDE)
