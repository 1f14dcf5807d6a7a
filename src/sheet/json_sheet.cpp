#include "json_pieces.hpp"

/// Any sheet as JSON: block for block what the paper says, for programs that print or read it another way.
namespace patchwright::sheet {
namespace {

Json block_json(const Block& block);

Json blocks_json(const std::vector<Block>& blocks) {
    Json list = Json::array();
    for (const auto& block : blocks) list.push_back(block_json(block));
    return list;
}

Json content_json(const Heading& h) { return {{"heading", h.text}, {"level", h.level}}; }
Json content_json(const Paragraph& p) { return {{"paragraph", p.text}}; }
Json content_json(const Bullets& b) { return {{"bullets", b.items}}; }
Json content_json(const Ticks& t) { return {{"ticks", t.items}}; }
Json content_json(const Caution& c) { return {{"caution", c.title}, {"text", c.text}, {"source", c.source}}; }
Json content_json(const Signature& s) { return {{"signature", s.labels}}; }
Json content_json(const Picture& p) { return {{"picture", p.as_text}}; }
Json content_json(const Image& i) { return {{"image", i.vector ? "svg" : "png"}}; }
Json content_json(const PageBreak&) { return {{"page_break", true}}; }

Json content_json(const Fields& f) {
    Json list = Json::array();
    for (const auto& field : f.fields) {
        Json entry = {{"label", field.label}};
        entry["value"] = field.blank() ? Json(nullptr) : Json(field.value);
        list.push_back(std::move(entry));
    }
    return {{"fields", std::move(list)}};
}

Json content_json(const Table& t) {
    Json columns = Json::array();
    for (const auto& column : t.columns) columns.push_back(column.title);
    return {{"table", t.title}, {"columns", std::move(columns)}, {"rows", t.rows}};
}

Json content_json(const Card& c) {
    return {{"card", c.title}, {"subtitle", c.subtitle}, {"blocks", blocks_json(c.blocks)}};
}

Json content_json(const Columns& c) {
    Json columns = Json::array();
    for (const auto& column : c.columns) columns.push_back(blocks_json(column));
    return {{"beside", std::move(columns)}};
}

Json block_json(const Block& block) {
    return std::visit([](const auto& content) { return content_json(content); }, block.content);
}

}  // namespace

Json sheet_json(const Sheet& sheet) {
    Json json = Json::object();
    json["kind"] = sheet.kind;
    json["title"] = sheet.title;
    json["reference"] = sheet.reference;
    json["subject"] = sheet.subject;
    json["banners"] = sheet.banners;
    json["blocks"] = blocks_json(sheet.blocks);
    return json;
}

}  // namespace patchwright::sheet
