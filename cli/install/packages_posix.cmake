# A Debian package and a tarball.
add_executable(write_manual ${PROJECT_SOURCE_DIR}/cli/write_manual.cpp)
target_link_libraries(write_manual PRIVATE cli)
set(manual ${CMAKE_BINARY_DIR}/manual)
set(manual_pages voltfall.1 voltfall-circuit.5 voltfall-job.5 voltfall-lesson.5)
list(TRANSFORM manual_pages PREPEND ${manual}/ OUTPUT_VARIABLE manual_files)
add_custom_command(
  OUTPUT ${manual_files}
  COMMAND ${CMAKE_COMMAND} -E make_directory ${manual}
  COMMAND write_manual ${manual}
  DEPENDS write_manual
  COMMENT "Writing the manual pages")
add_custom_target(manual ALL DEPENDS ${manual_files})

install(TARGETS voltfall RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(FILES ${manual}/voltfall.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${manual}/voltfall-circuit.5 ${manual}/voltfall-job.5 ${manual}/voltfall-lesson.5
        DESTINATION ${CMAKE_INSTALL_MANDIR}/man5)
install(
  FILES completions/voltfall.bash
  DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions
  RENAME voltfall)
install(FILES completions/_voltfall DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions)
install(FILES completions/voltfall.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)
install_scenarios(${CMAKE_INSTALL_DATADIR}/voltfall)
install(FILES ${PROJECT_SOURCE_DIR}/README.md ${PROJECT_SOURCE_DIR}/cli/reference.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(
  FILES ${PROJECT_SOURCE_DIR}/LICENSE
  DESTINATION ${CMAKE_INSTALL_DOCDIR}
  RENAME copyright)

# Libraries that go with the program. In a package: those whose file name differs between Debian 12 and 13 (fmt 9 and 10, mimalloc 2 and
# 3), so that one package, built on Debian 12, installs on both. In the tarball: all but the system's own (C and C++) and those that are
# opened when they are needed.
set(private_libraries lib/voltfall)
# Beside the program, and where the .deb puts them: without /proc the loader does not know where the program stands.
set_target_properties(voltfall PROPERTIES INSTALL_RPATH "\$ORIGIN/../${private_libraries}:/usr/${private_libraries}")
# A library that goes with the program finds what it needs there too: by DT_RPATH, which counts for all that is loaded.
target_link_options(voltfall PRIVATE -Wl,--disable-new-dtags)
set(notices ${CMAKE_INSTALL_DOCDIR}/libraries)

function(install_notice file component)
  # Debian tells a library's licence beside it: /usr/share/doc/PACKAGE/copyright.
  get_filename_component(name ${file} NAME)
  string(REGEX REPLACE "^(lib[a-z0-9_-]+)\\.so.*$" "\\1" stem ${name})
  file(GLOB told /usr/share/doc/${stem}[0-9]*/copyright)
  foreach(notice ${told})
    install(
      FILES ${notice}
      DESTINATION ${notices}
      COMPONENT ${component}
      RENAME ${stem}.copyright
      EXCLUDE_FROM_ALL)
  endforeach()
endfunction()

function(carry_file file soname component)
  file(REAL_PATH ${file} real)
  install(
    FILES ${real}
    DESTINATION ${private_libraries}
    COMPONENT ${component}
    RENAME ${soname}
    EXCLUDE_FROM_ALL)
  install_notice(${real} ${component})
endfunction()

function(carry_target target component)
  get_target_property(configurations ${target} IMPORTED_CONFIGURATIONS)
  list(GET configurations 0 configuration)
  get_target_property(file ${target} IMPORTED_LOCATION_${configuration})
  get_target_property(soname ${target} IMPORTED_SONAME_${configuration})
  carry_file(${file} ${soname} ${component})
endfunction()

carry_target(fmt::fmt carried)
if(TARGET mimalloc)
  carry_target(mimalloc carried)
endif()
foreach(name csv edit qrencode bsd md)
  file(GLOB found /usr/lib/${CMAKE_LIBRARY_ARCHITECTURE}/lib${name}.so.[0-9] /lib/${CMAKE_LIBRARY_ARCHITECTURE}/lib${name}.so.[0-9])
  if(found)
    list(GET found 0 file)
    get_filename_component(soname ${file} NAME)
    carry_file(${file} ${soname} tarball)
  endif()
endforeach()

set(CPACK_GENERATOR DEB TGZ)
set(CPACK_PROJECT_CONFIG_FILE ${CMAKE_CURRENT_SOURCE_DIR}/package_contents.cmake)
set(CPACK_PACKAGE_NAME voltfall)
set(CPACK_PACKAGE_CONTACT "the voltfall developers <voltfall@localhost>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "find the fault in a vehicle's circuit from what was measured")
set(CPACK_PACKAGE_DESCRIPTION
    "A vehicle technician types the circuit from the printed wiring diagram and what was seen and measured; the circuit is simulated, healthy and with every fault it can have. The answer: which faults fit and why, and what to measure next.")
set(CPACK_RESOURCE_FILE_LICENSE ${PROJECT_SOURCE_DIR}/LICENSE)
set(CPACK_STRIP_FILES ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION electronics)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# Opened when they are first needed: the linker does not know of them. Debian 13's libmicrohttpd12t64 provides the old name.
set(CPACK_DEBIAN_PACKAGE_DEPENDS "libngspice0 (>= 39), libgvc6, libmicrohttpd12")
set(CPACK_OUTPUT_FILE_PREFIX ${CMAKE_BINARY_DIR}/packages)
include(CPack)
