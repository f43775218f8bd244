# Finds the libraries. Where one is missing the message names the Debian package that brings it;
# third_party/README.md lists them all.

function(petalproof_missing what package)
  message(FATAL_ERROR "${what} was not found. On Debian 12 it comes with the package ${package}: "
                      "run `sh third_party/bootstrap.sh packages`, or install ${package} by hand.")
endfunction()

# An imported target for a header-only or plain library without a CMake file of its own.
function(petalproof_library target package header)
  cmake_parse_arguments(arg "" "SUBDIR" "LIBS" ${ARGN})
  find_path(${target}_include ${header} PATH_SUFFIXES ${arg_SUBDIR})
  if(NOT ${target}_include)
    petalproof_missing(${header} ${package})
  endif()
  add_library(${target} INTERFACE IMPORTED GLOBAL)
  target_include_directories(${target} SYSTEM INTERFACE ${${target}_include})
  foreach(lib IN LISTS arg_LIBS)
    find_library(${target}_${lib} ${lib})
    if(NOT ${target}_${lib})
      petalproof_missing("lib${lib}" ${package})
    endif()
    target_link_libraries(${target} INTERFACE ${${target}_${lib}})
  endforeach()
endfunction()

find_package(Threads REQUIRED)

petalproof_library(petalproof_glm libglm-dev glm/glm.hpp)
target_compile_definitions(petalproof_glm INTERFACE GLM_FORCE_CTOR_INIT GLM_FORCE_XYZW_ONLY)
petalproof_library(petalproof_toml libtomlplusplus-dev toml++/toml.h)
target_compile_definitions(petalproof_toml INTERFACE TOML_EXCEPTIONS=0)
petalproof_library(petalproof_json nlohmann-json3-dev nlohmann/json.hpp)
petalproof_library(petalproof_cli11 libcli11-dev CLI/CLI.hpp)
petalproof_library(petalproof_fmt libfmt-dev fmt/format.h LIBS fmt)
petalproof_library(petalproof_tbb libtbb-dev tbb/parallel_for.h LIBS tbb)
petalproof_library(petalproof_tinyobj libtinyobjloader-dev tiny_obj_loader.h LIBS tinyobjloader)
petalproof_library(petalproof_png libpng-dev png.h LIBS png)
petalproof_library(petalproof_csv libcsv-dev csv.h LIBS csv)
petalproof_library(petalproof_cairo libcairo2-dev cairo.h SUBDIR cairo LIBS cairo)

petalproof_library(petalproof_epoxy libepoxy-dev epoxy/gl.h LIBS epoxy)
petalproof_library(petalproof_glfw libglfw3-dev GLFW/glfw3.h LIBS glfw)
target_compile_definitions(petalproof_glfw INTERFACE GLFW_INCLUDE_NONE)
petalproof_library(petalproof_imgui libimgui-dev imgui.h SUBDIR imgui LIBS imgui stb)
petalproof_library(petalproof_md4c libmd4c-dev md4c.h LIBS md4c)
petalproof_library(petalproof_fontconfig libfontconfig-dev fontconfig/fontconfig.h LIBS fontconfig)

find_package(PkgConfig QUIET)
if(NOT PkgConfig_FOUND)
  petalproof_missing(pkg-config pkgconf)
endif()
pkg_check_modules(pangocairo QUIET IMPORTED_TARGET GLOBAL pangocairo)
if(NOT pangocairo_FOUND)
  petalproof_missing(pangocairo libpango1.0-dev)
endif()

if(PETALPROOF_BUILD_TESTS OR PETALPROOF_BUILD_BENCH)
  petalproof_library(petalproof_embree libembree-dev embree3/rtcore.h LIBS embree3)
  # The small OpenCV packages come without a CMake file; their headers mix enumerations.
  petalproof_library(petalproof_opencv libopencv-calib3d-dev opencv2/calib3d.hpp SUBDIR opencv4
                     LIBS opencv_core opencv_imgproc opencv_calib3d)
endif()
if(PETALPROOF_BUILD_TESTS)
  petalproof_library(petalproof_doctest doctest-dev doctest/doctest.h)
  petalproof_library(petalproof_assimp libassimp-dev assimp/Importer.hpp LIBS assimp)
  petalproof_library(petalproof_glpk libglpk-dev glpk.h LIBS glpk)
  petalproof_library(petalproof_x11 libx11-dev X11/Xlib.h LIBS X11)
endif()
