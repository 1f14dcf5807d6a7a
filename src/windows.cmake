# Cross-built from Debian, which has these libraries for itself only. Their headers and pugixml's source serve any system.
#   headers: packages libfmt-dev, nlohmann-json3-dev, libcli11-dev; in a folder of their own, since beside them in
#   /usr/include stand those of the C library of this machine
#   source:  `apt-get source pugixml`; .ci/windows --source does it
set(headers ${PROJECT_BINARY_DIR}/headers)
file(MAKE_DIRECTORY ${headers})
foreach(name fmt nlohmann CLI)
  if(NOT EXISTS /usr/include/${name})
    message(FATAL_ERROR "No headers in /usr/include/${name} (Debian: apt install libfmt-dev nlohmann-json3-dev libcli11-dev)")
  endif()
  file(CREATE_LINK /usr/include/${name} ${headers}/${name} SYMBOLIC)
endforeach()
foreach(target fmt::fmt nlohmann_json::nlohmann_json CLI11::CLI11)
  add_library(${target} INTERFACE IMPORTED)
  target_include_directories(${target} INTERFACE ${headers})
endforeach()
target_compile_definitions(fmt::fmt INTERFACE FMT_HEADER_ONLY)

set(PATCHWRIGHT_PUGIXML ${PROJECT_SOURCE_DIR}/build/pugixml CACHE PATH "Source of pugixml")
if(NOT EXISTS ${PATCHWRIGHT_PUGIXML}/src/pugixml.cpp)
  message(FATAL_ERROR "No source of pugixml in ${PATCHWRIGHT_PUGIXML}: .ci/windows --source fetches it, or give -DPATCHWRIGHT_PUGIXML=FOLDER")
endif()
add_library(pugixml STATIC ${PATCHWRIGHT_PUGIXML}/src/pugixml.cpp)
target_include_directories(pugixml SYSTEM PUBLIC ${PATCHWRIGHT_PUGIXML}/src)
add_library(pugixml::pugixml ALIAS pugixml)

# One file to copy, which needs no other; threads have the room for calls that they have elsewhere.
add_link_options(-static -Wl,--stack,8388608)
