# A zip that is unpacked anywhere: the program with the libraries that it opens, scenarios, pages, licences.
install(TARGETS voltfall RUNTIME DESTINATION .)
# Those that could not be built are missing, and the commands that need them say so.
foreach(library ${NGSPICE_FILE_NAME} ${MICROHTTPD_FILE_NAME})
  if(EXISTS ${WINDOWS_LIBRARIES}/bin/${library})
    install(FILES ${WINDOWS_LIBRARIES}/bin/${library} DESTINATION .)
  else()
    message(WARNING "the zip goes without ${library}")
  endif()
endforeach()
install_scenarios(scenarios)
install(FILES ${PROJECT_SOURCE_DIR}/README.md ${PROJECT_SOURCE_DIR}/CHANGELOG.md ${PROJECT_SOURCE_DIR}/cli/reference.md DESTINATION .)
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION . RENAME LICENSE.txt)
# Of all that is built into the program or lies beside it, as Debian tells them.
install(DIRECTORY ${WINDOWS_LIBRARIES}/licences DESTINATION .)

set(CPACK_GENERATOR ZIP)
set(CPACK_PACKAGE_NAME voltfall)
set(CPACK_SYSTEM_NAME windows)
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "find the fault in a vehicle's circuit from what was measured")
set(CPACK_RESOURCE_FILE_LICENSE ${PROJECT_SOURCE_DIR}/LICENSE)
set(CPACK_STRIP_FILES ON)
set(CPACK_OUTPUT_FILE_PREFIX ${CMAKE_BINARY_DIR}/packages)
include(CPack)
