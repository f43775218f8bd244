#pragma once
// Memory for pictures and triangle lists: tens of megabytes, rewritten in each call. The rasterisers and
// picture makers call these functions so that the system maps the memory quickly.

#include "engine/base/pool.h"

#include <cstddef>
#include <vector>

namespace petalproof {

// Hints to the system to use large pages for this memory. With small pages, the first write to each page
// takes longer than drawing the picture.
void preferLargePages(void* memory, std::size_t bytes);

// Writes a zero to each page of fresh memory, on several threads, because the first write to a page is slow.
// Does nothing where the pool has a single thread.
void touchFirst(void* memory, std::size_t bytes, const Pool& pool);

// Reserves room for `count` values; may discard the present values.
template <class T>
void makeRoom(std::vector<T>& values, std::size_t count) {
  if (count <= values.capacity()) return;
  values.clear();
  values.reserve(count);
  preferLargePages(values.data(), count * sizeof(T));
}

// Like vector::resize, for values that will all be overwritten.
template <class T>
void resizePicture(std::vector<T>& pixels, std::size_t count, const Pool& pool) {
  const bool fresh = count > pixels.capacity();
  makeRoom(pixels, count);
  if (fresh) touchFirst(pixels.data(), count * sizeof(T), pool);
  pixels.resize(count);
}

}  // namespace petalproof
