#include "patchwright/job/words.hpp"

namespace patchwright::job {
namespace {

template <class E>
using Entry = std::pair<std::string_view, E>;

constexpr Entry<Certainty> certainties[] = {
    {"call", Certainty::call}, {"photo", Certainty::photo}, {"survey", Certainty::survey}};
constexpr Entry<Material> materials[] = {{"clay", Material::clay},
                                         {"concrete", Material::concrete},
                                         {"cast iron", Material::cast_iron},
                                         {"PVC-U", Material::pvc_u},
                                         {"asbestos cement", Material::asbestos_cement},
                                         {"pitch fibre", Material::pitch_fibre},
                                         {"other", Material::other}};
constexpr Entry<Condition> conditions[] = {{"partially deteriorated", Condition::partially_deteriorated},
                                           {"fully deteriorated", Condition::fully_deteriorated}};
constexpr Entry<Surface> surfaces[] = {{"grass", Surface::grass},
                                       {"block", Surface::block},
                                       {"asphalt", Surface::asphalt},
                                       {"concrete", Surface::concrete}};
constexpr Entry<Soil> soils[] = {{"A", Soil::a}, {"B", Soil::b}, {"C", Soil::c}, {"rock", Soil::rock}};
constexpr Entry<Traffic> traffics[] = {{"none", Traffic::none},
                                       {"highway", Traffic::highway},
                                       {"railway", Traffic::railway},
                                       {"aircraft", Traffic::aircraft}};
constexpr Entry<FittingKind> fitting_kinds[] = {
    {"bend", FittingKind::bend}, {"junction", FittingKind::junction}, {"size change", FittingKind::size_change}};
constexpr Entry<DefectKind> defect_kinds[] = {{"fissure", DefectKind::fissure},
                                              {"break", DefectKind::fracture_break},
                                              {"collapse", DefectKind::collapse},
                                              {"deformation", DefectKind::deformation},
                                              {"surface damage", DefectKind::surface_damage},
                                              {"displaced joint", DefectKind::displaced_joint},
                                              {"defective connection", DefectKind::defective_connection},
                                              {"intruding connection", DefectKind::intruding_connection},
                                              {"root intrusion", DefectKind::root_intrusion},
                                              {"attached deposit", DefectKind::attached_deposit},
                                              {"infiltration", DefectKind::infiltration},
                                              {"exfiltration", DefectKind::exfiltration},
                                              {"missing wall", DefectKind::missing_wall}};
constexpr Entry<Inflow> inflows[] = {{"none", Inflow::none},
                                     {"sweating", Inflow::sweating},
                                     {"dripping", Inflow::dripping},
                                     {"running", Inflow::running},
                                     {"gushing", Inflow::gushing}};
constexpr Entry<PackerShape> packer_shapes[] = {
    {"straight", PackerShape::straight}, {"T", PackerShape::t_piece}, {"Y", PackerShape::y_piece}};
constexpr Entry<BladderMaterial> bladder_materials[] = {{"silicone", BladderMaterial::silicone},
                                                        {"rubber", BladderMaterial::rubber},
                                                        {"PVC calibration hose", BladderMaterial::pvc_hose}};
constexpr Entry<FeltForm> felt_forms[] = {{"sheet", FeltForm::sheet}, {"sewn tube", FeltForm::sewn_tube}};
constexpr Entry<Fibre> fibres[] = {{"polyester felt", Fibre::polyester_felt}, {"glass mat", Fibre::glass_mat}};
constexpr Entry<AirSupply> air_supplies[] = {{"regulated", AirSupply::regulated}, {"shut in", AirSupply::shut_in}};
constexpr Entry<ResinKind> resin_kinds[] = {{"epoxy", ResinKind::epoxy},
                                            {"polyester", ResinKind::polyester},
                                            {"vinyl ester", ResinKind::vinyl_ester},
                                            {"silicate-isocyanate", ResinKind::silicate_isocyanate}};
constexpr Entry<DataPointKind> data_point_kinds[] = {{"pot life", DataPointKind::pot_life},
                                                     {"gel", DataPointKind::gel},
                                                     {"strip", DataPointKind::strip},
                                                     {"working", DataPointKind::working}};
constexpr Entry<HeatMedium> heat_media[] = {{"air", HeatMedium::air}, {"water", HeatMedium::water}};
constexpr Entry<Risk::Consequence> consequences[] = {
    {"cost", Risk::Consequence::cost}, {"redo", Risk::Consequence::redo}, {"dig", Risk::Consequence::dig}};
constexpr Entry<Risk::Cause> causes[] = {{"own", Risk::Cause::own},
                                         {"ground", Risk::Cause::ground},
                                         {"access", Risk::Cause::access},
                                         {"water", Risk::Cause::water}};
constexpr Entry<UnitSystem> unit_systems[] = {{"metric", UnitSystem::metric}, {"us", UnitSystem::us}};

}  // namespace

WordList<Certainty> words_of(Certainty) { return certainties; }
WordList<Material> words_of(Material) { return materials; }
WordList<Condition> words_of(Condition) { return conditions; }
WordList<Surface> words_of(Surface) { return surfaces; }
WordList<Soil> words_of(Soil) { return soils; }
WordList<Traffic> words_of(Traffic) { return traffics; }
WordList<FittingKind> words_of(FittingKind) { return fitting_kinds; }
WordList<DefectKind> words_of(DefectKind) { return defect_kinds; }
WordList<Inflow> words_of(Inflow) { return inflows; }
WordList<PackerShape> words_of(PackerShape) { return packer_shapes; }
WordList<BladderMaterial> words_of(BladderMaterial) { return bladder_materials; }
WordList<FeltForm> words_of(FeltForm) { return felt_forms; }
WordList<Fibre> words_of(Fibre) { return fibres; }
WordList<AirSupply> words_of(AirSupply) { return air_supplies; }
WordList<ResinKind> words_of(ResinKind) { return resin_kinds; }
WordList<DataPointKind> words_of(DataPointKind) { return data_point_kinds; }
WordList<HeatMedium> words_of(HeatMedium) { return heat_media; }
WordList<Risk::Consequence> words_of(Risk::Consequence) { return consequences; }
WordList<Risk::Cause> words_of(Risk::Cause) { return causes; }
WordList<UnitSystem> words_of(UnitSystem) { return unit_systems; }

std::string_view word(Certainty v) { return word_in<Certainty>(certainties, v); }
std::string_view word(Material v) { return word_in<Material>(materials, v); }
std::string_view word(Condition v) { return word_in<Condition>(conditions, v); }
std::string_view word(Surface v) { return word_in<Surface>(surfaces, v); }
std::string_view word(Soil v) { return word_in<Soil>(soils, v); }
std::string_view word(Traffic v) { return word_in<Traffic>(traffics, v); }
std::string_view word(FittingKind v) { return word_in<FittingKind>(fitting_kinds, v); }
std::string_view word(DefectKind v) { return word_in<DefectKind>(defect_kinds, v); }
std::string_view word(Inflow v) { return word_in<Inflow>(inflows, v); }
std::string_view word(PackerShape v) { return word_in<PackerShape>(packer_shapes, v); }
std::string_view word(BladderMaterial v) { return word_in<BladderMaterial>(bladder_materials, v); }
std::string_view word(FeltForm v) { return word_in<FeltForm>(felt_forms, v); }
std::string_view word(Fibre v) { return word_in<Fibre>(fibres, v); }
std::string_view word(AirSupply v) { return word_in<AirSupply>(air_supplies, v); }
std::string_view word(ResinKind v) { return word_in<ResinKind>(resin_kinds, v); }
std::string_view word(HeatMedium v) { return word_in<HeatMedium>(heat_media, v); }

}  // namespace patchwright::job
