#pragma once
// Memory for whole pictures and their triangles: tens of megabytes that are written once a call.

#include <cstddef>
#include <vector>

namespace petalproof {

// Tells the system that large pages suit this memory: it is touched for the first time soon, and with small
// pages that takes longer than to draw the picture. Only a hint.
void preferLargePages(void* memory, std::size_t bytes);

// Touches fresh memory for the first time, which takes the system longer than to fill it later: side by side
// within Workers::run, not at all elsewhere. Writes to it.
void touchFirst(void* memory, std::size_t bytes);

// Makes room for `count` values; may forget those there are.
template <class T>
void makeRoom(std::vector<T>& values, std::size_t count) {
  if (count <= values.capacity()) return;
  values.clear();
  values.reserve(count);
  preferLargePages(values.data(), count * sizeof(T));
}

// As vector::resize, for values that will all be overwritten.
template <class T>
void resizePicture(std::vector<T>& pixels, std::size_t count) {
  const bool fresh = count > pixels.capacity();
  makeRoom(pixels, count);
  if (fresh) touchFirst(pixels.data(), count * sizeof(T));
  pixels.resize(count);
}

}  // namespace petalproof
