# Writes a data file as a C++ source, in pieces that every compiler takes.
#   cmake -DINPUT=file -DOUTPUT=file.cpp -DHEADER=x.hpp -DFUNCTION=name -DNAMESPACE=a::b -P embed.cmake
file(READ "${INPUT}" hex HEX)
string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
string(REPLACE "0x0a," "0x0a,\n" bytes "${bytes}")  # a line of the file a line of the source
file(WRITE "${OUTPUT}" "#include \"${HEADER}\"

namespace ${NAMESPACE} {
namespace {
constexpr unsigned char bytes[] = {
${bytes}};
}  // namespace

std::string_view ${FUNCTION}() { return {reinterpret_cast<const char*>(bytes), sizeof bytes}; }

}  // namespace ${NAMESPACE}
")
