#Writes the starter circuits of scenarios / starters into one source file, as they stand.
file(GLOB starter_files CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/scenarios/starters/*.toml)
list(SORT starter_files)
set(starter_rows "")
foreach(starter ${starter_files})
  get_filename_component(name ${starter} NAME_WE)
  file(READ ${starter} text)
  string(APPEND starter_rows "    Starter{\"${name}\", R\"starter(${text})starter\"},\n")
endforeach()
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${starter_files})
file(
  CONFIGURE OUTPUT ${CMAKE_CURRENT_BINARY_DIR}/starter_texts.cpp
  CONTENT
    "#include <array>\n\n#include \"cli/commands/starters.hpp\"\n\nnamespace voltfall {\n\nstd::span<const Starter> starters() {\n    static constexpr std::array table{\n@starter_rows@    };\n    return table;\n}\n\n}  // namespace voltfall\n"
  @ONLY)
target_sources(cli PRIVATE ${CMAKE_CURRENT_BINARY_DIR}/starter_texts.cpp)
