#include "patchwright/cure/cure.hpp"

#include "knowledge.hpp"

namespace patchwright::cure {

Model::Model(const job::Resin& resin) : impl_{std::make_unique<Impl>()} {
    impl_->resin = resin;
    impl_->fit = detail::calibrate(resin);
    for (std::size_t i = 0; i < resin.data.size(); ++i)
        impl_->points.push_back({resin.data[i], Duration::from_si(impl_->fit.computed[i])});
}
Model::Model(Model&&) noexcept = default;
Model& Model::operator=(Model&&) noexcept = default;
Model::~Model() = default;

std::span<const Model::FitPoint> Model::fit() const { return impl_->points; }
std::span<const std::string> Model::fit_remarks() const { return impl_->fit.remarks; }
const Kinetics& Model::kinetics() const { return impl_->fit.kinetics; }

}  // namespace patchwright::cure
