#pragma once
// Memory for whole pictures: tens of megabytes that are written once a call.

#include <cstddef>
#include <vector>

namespace petalproof::visibility {

// Tells the system that large pages suit this memory: it is touched for the first time soon, and with small
// pages that takes longer than to draw the picture. Only a hint.
void preferLargePages(void* memory, std::size_t bytes);

// As vector::resize, for pictures.
template <class T>
void resizePicture(std::vector<T>& pixels, std::size_t count) {
  if (count > pixels.capacity()) {
    pixels.clear();
    pixels.reserve(count);
    preferLargePages(pixels.data(), count * sizeof(T));
  }
  pixels.resize(count);
}

}  // namespace petalproof::visibility
