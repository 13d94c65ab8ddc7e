# The libraries as .ci/windows/libraries makes them: headers, and archives that go into the program.
if(NOT EXISTS ${WINDOWS_LIBRARIES}/lib/libfmt.a)
  message(FATAL_ERROR "make the libraries first: .ci/windows/libraries")
endif()
set(headers ${WINDOWS_LIBRARIES}/include)

# NAME, an archive in lib/ or none, and folders of headers.
function(made_library name archive)
  add_library(${name} INTERFACE IMPORTED GLOBAL)
  target_include_directories(${name} SYSTEM INTERFACE ${headers} ${ARGN})
  if(archive)
    target_link_libraries(${name} INTERFACE ${WINDOWS_LIBRARIES}/lib/${archive})
  endif()
endfunction()
made_library(Boost::headers "")
made_library(CLI11::CLI11 "")
made_library(fmt::fmt libfmt.a)
made_library(nlohmann_json::nlohmann_json "")
made_library(Eigen3::Eigen "" ${headers}/eigen3)
made_library(tl::expected "")
made_library(qr_library libqrencode.a)
set(CSV_LIBRARY ${WINDOWS_LIBRARIES}/lib/libcsv.a)
set(NGSPICE_INCLUDE_DIRS ${headers})
set(GRAPHVIZ_INCLUDE_DIRS ${headers}/graphviz)
set(MICROHTTPD_INCLUDE_DIRS ${headers})

# As they lie beside the program, where they could be built.
set(NGSPICE_FILE_NAME libngspice-0.dll)
set(MICROHTTPD_FILE_NAME libmicrohttpd-12.dll)
set(GRAPHVIZ_FILE_NAME gvc.dll)

add_library(system_libraries INTERFACE)
target_link_libraries(system_libraries INTERFACE ws2_32 iphlpapi bcrypt shell32)
# One file that runs where nothing is installed: the compiler's own libraries go into it.
add_link_options(-static)
add_compile_definitions(_WIN32_WINNT=0x0A00 NOMINMAX WIN32_LEAN_AND_MEAN UNICODE)
