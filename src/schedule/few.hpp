#pragma once
#include <array>
#include <cassert>
#include <cstddef>
#include <initializer_list>

namespace patchwright::schedule {

/// A list of at most `most` plain values that stands where it is declared: no memory is asked for.
template <class T, std::size_t most>
class Few {
public:
    void push_back(const T& value) {
        assert(size_ < most);
        list_[size_++] = value;
    }
    void append(std::initializer_list<T> values) {
        for (const T& value : values) push_back(value);
    }
    std::size_t size() const { return size_; }
    T& operator[](std::size_t i) { return list_[i]; }
    const T& operator[](std::size_t i) const { return list_[i]; }
    T* begin() { return list_.data(); }
    T* end() { return list_.data() + size_; }
    const T* begin() const { return list_.data(); }
    const T* end() const { return list_.data() + size_; }

private:
    std::array<T, most> list_;  // only the first `size_` are ever read
    std::size_t size_ = 0;
};

}  // namespace patchwright::schedule
