# What `cmake --install` puts where, and the Debian packages: the program, and the library for other programs.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

# Completion and man page come from the program's own option tree.
set(made ${CMAKE_CURRENT_BINARY_DIR}/made)
file(MAKE_DIRECTORY ${made})
foreach(form bash zsh fish man)
  add_custom_command(OUTPUT ${made}/${form}
    COMMAND patchwright_cli completion ${form} > ${made}/${form}
    DEPENDS patchwright_cli VERBATIM)
endforeach()
find_program(GZIP gzip REQUIRED)
add_custom_command(OUTPUT ${made}/man.gz
  COMMAND ${GZIP} -9nkf ${made}/man
  DEPENDS ${made}/man VERBATIM)
add_custom_target(patchwright_shell ALL DEPENDS ${made}/bash ${made}/zsh ${made}/fish ${made}/man.gz)

set(CMAKE_INSTALL_DEFAULT_COMPONENT_NAME program)
install(TARGETS patchwright_cli RUNTIME)
install(FILES ${made}/man.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 RENAME patchwright.1.gz)
install(FILES ${made}/bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME patchwright)
install(FILES ${made}/zsh DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions RENAME _patchwright)
install(FILES ${made}/fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d RENAME patchwright.fish)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/docs ${PROJECT_SOURCE_DIR}/examples ${PROJECT_SOURCE_DIR}/data
  DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)

# The library: find_package(patchwright) gives patchwright::core and each module by its name.
set(CMAKE_INSTALL_DEFAULT_COMPONENT_NAME library)
set(package_dir ${CMAKE_INSTALL_LIBDIR}/cmake/patchwright)
set_target_properties(patchwright_core PROPERTIES EXPORT_NAME core)
install(TARGETS patchwright_core ${modules} EXPORT patchwright-targets)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/include/patchwright DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(EXPORT patchwright-targets NAMESPACE patchwright:: DESTINATION ${package_dir})
write_basic_package_version_file(${made}/patchwright-config-version.cmake COMPATIBILITY SameMinorVersion)
configure_file(patchwright-config.cmake ${made}/patchwright-config.cmake @ONLY)
install(FILES ${made}/patchwright-config.cmake ${made}/patchwright-config-version.cmake DESTINATION ${package_dir})

set(CPACK_PACKAGE_CONTACT "The Patchwright authors <patchwright@example.org>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL program library)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME patchwright)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION utils)
set(CPACK_DEBIAN_PROGRAM_DESCRIPTION "${PROJECT_DESCRIPTION}")
# Fonts are found at run time, where shlibdeps cannot see them.
set(CPACK_DEBIAN_PROGRAM_PACKAGE_DEPENDS fonts-dejavu-core)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_RECOMMENDS librsvg2-2)  # for a logo that is an SVG
set(CPACK_DEBIAN_LIBRARY_PACKAGE_NAME libpatchwright-dev)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_LIBRARY_DESCRIPTION "${PROJECT_DESCRIPTION}: C++ library")
set(CPACK_DEBIAN_LIBRARY_PACKAGE_DEPENDS "libfmt-dev, libpugixml-dev, nlohmann-json3-dev, libpango1.0-dev")
include(CPack)
