#pragma once
// Lists of numbers, stored end to end in one piece of memory: the sets and elements of CoverState and of the
// packing.

#include <cstdint>
#include <span>
#include <vector>

namespace petalproof::cover {

struct Lists {
  std::vector<std::uint32_t> items;
  std::vector<std::uint32_t> begins = {0};  // of each list, and the end of the last

  std::span<const std::uint32_t> operator[](std::uint32_t list) const {
    return {items.data() + begins[list], items.data() + begins[list + 1]};
  }
  std::uint32_t count() const { return static_cast<std::uint32_t>(begins.size() - 1); }
  // Ends a list: items added since the last call belong to it.
  void close() { begins.push_back(static_cast<std::uint32_t>(items.size())); }

  // For each item in [0, items_in_all) the lists that hold it, ascending.
  Lists turnedRound(std::uint32_t items_in_all) const {
    Lists turned;
    turned.begins.assign(items_in_all + 1U, 0);
    for (const std::uint32_t item : items) ++turned.begins[item + 1];
    for (std::uint32_t item = 0; item < items_in_all; ++item) turned.begins[item + 1] += turned.begins[item];
    turned.items.resize(items.size());
    std::vector<std::uint32_t> at(turned.begins.begin(), turned.begins.end() - 1);
    for (std::uint32_t list = 0; list < count(); ++list)
      for (const std::uint32_t item : (*this)[list]) turned.items[at[item]++] = list;
    return turned;
  }
};

// A set of numbers below `size`: take() adds a number, give() removes it, both in constant time.
class IndexPool {
 public:
  explicit IndexPool(std::uint32_t size) : at_(size, absent) {}

  bool holds(std::uint32_t index) const { return at_[index] != absent; }
  bool empty() const { return members_.empty(); }
  const std::vector<std::uint32_t>& members() const { return members_; }
  void take(std::uint32_t index) {
    at_[index] = static_cast<std::uint32_t>(members_.size());
    members_.push_back(index);
  }
  void give(std::uint32_t index) {
    const std::uint32_t hole = at_[index];
    members_[hole] = members_.back();
    at_[members_[hole]] = hole;
    members_.pop_back();
    at_[index] = absent;
  }

 private:
  static constexpr std::uint32_t absent = 0xffffffff;
  std::vector<std::uint32_t> members_;
  std::vector<std::uint32_t> at_;
};

}  // namespace petalproof::cover
