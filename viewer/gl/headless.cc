#include "viewer/gl/headless.h"

#include <epoxy/egl.h>
#include <epoxy/gl.h>

#include <array>
#include <vector>

namespace petalproof::gl {
namespace {

EGLDisplay processorDisplay() {
  if (!epoxy_has_egl_extension(EGL_NO_DISPLAY, "EGL_MESA_platform_surfaceless")) return EGL_NO_DISPLAY;
  return eglGetPlatformDisplayEXT(EGL_PLATFORM_SURFACELESS_MESA, EGL_DEFAULT_DISPLAY, nullptr);
}

// The first device that isn't Mesa's own renderer on the processor.
EGLDisplay cardDisplay() {
  // EGL_EXT_device_base was later split in two; drivers name either the old or the new extension.
  if (!epoxy_has_egl_extension(EGL_NO_DISPLAY, "EGL_EXT_device_base") &&
      !epoxy_has_egl_extension(EGL_NO_DISPLAY, "EGL_EXT_device_enumeration"))
    return EGL_NO_DISPLAY;
  EGLint count = 0;
  if (eglQueryDevicesEXT(0, nullptr, &count) == EGL_FALSE || count == 0) return EGL_NO_DISPLAY;
  std::vector<EGLDeviceEXT> devices(static_cast<std::size_t>(count));
  eglQueryDevicesEXT(count, devices.data(), &count);
  for (EGLDeviceEXT device : devices) {
    const char* const extensions = eglQueryDeviceStringEXT(device, EGL_EXTENSIONS);
    if (extensions != nullptr &&
        std::string(extensions).find("EGL_MESA_device_software") != std::string::npos)
      continue;
    return eglGetPlatformDisplayEXT(EGL_PLATFORM_DEVICE_EXT, device, nullptr);
  }
  return EGL_NO_DISPLAY;
}

}  // namespace

struct HeadlessContext::State {
  EGLDisplay display = EGL_NO_DISPLAY;
  EGLContext context = EGL_NO_CONTEXT;

  State() = default;
  State(const State&) = delete;
  State& operator=(const State&) = delete;
  ~State() {
    if (display == EGL_NO_DISPLAY) return;
    eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, EGL_NO_CONTEXT);
    if (context != EGL_NO_CONTEXT) eglDestroyContext(display, context);
    eglTerminate(display);
  }

  bool open(HeadlessDevice device, bool debug) {
    display = device == HeadlessDevice::card ? cardDisplay() : processorDisplay();
    if (display == EGL_NO_DISPLAY || eglInitialize(display, nullptr, nullptr) == EGL_FALSE) return false;
    const std::array<EGLint, 5> wanted{EGL_SURFACE_TYPE, EGL_PBUFFER_BIT, EGL_RENDERABLE_TYPE, EGL_OPENGL_BIT,
                                       EGL_NONE};
    EGLConfig config = nullptr;
    EGLint count = 0;
    if (eglChooseConfig(display, wanted.data(), &config, 1, &count) == EGL_FALSE || count == 0) return false;
    if (eglBindAPI(EGL_OPENGL_API) == EGL_FALSE) return false;
    const std::array<EGLint, 9> version{EGL_CONTEXT_MAJOR_VERSION,
                                        3,
                                        EGL_CONTEXT_MINOR_VERSION,
                                        3,
                                        EGL_CONTEXT_OPENGL_PROFILE_MASK,
                                        EGL_CONTEXT_OPENGL_CORE_PROFILE_BIT,
                                        EGL_CONTEXT_OPENGL_DEBUG,
                                        debug ? EGL_TRUE : EGL_FALSE,
                                        EGL_NONE};
    context = eglCreateContext(display, config, EGL_NO_CONTEXT, version.data());
    return context != EGL_NO_CONTEXT &&
           eglMakeCurrent(display, EGL_NO_SURFACE, EGL_NO_SURFACE, context) == EGL_TRUE;
  }
};

HeadlessContext::HeadlessContext(std::unique_ptr<State> state) : state_(std::move(state)) {}
HeadlessContext::~HeadlessContext() = default;
HeadlessContext::HeadlessContext(HeadlessContext&&) noexcept = default;
HeadlessContext& HeadlessContext::operator=(HeadlessContext&&) noexcept = default;

std::optional<HeadlessContext> HeadlessContext::make(HeadlessDevice device, bool debug) {
  auto state = std::make_unique<State>();
  if (!state->open(device, debug)) return std::nullopt;
  return HeadlessContext(std::move(state));
}

std::string HeadlessContext::renderer() const {
  return reinterpret_cast<const char*>(glGetString(GL_RENDERER));  // NOLINT: OpenGL's bytes are letters
}

}  // namespace petalproof::gl
