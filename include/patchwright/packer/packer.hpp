#pragma once
/// Which packer carries the sleeve, how it gets there, and the air in it. One header for all of the module.
#include "patchwright/packer/air.hpp"
#include "patchwright/packer/build_card.hpp"
#include "patchwright/packer/contact.hpp"
#include "patchwright/packer/options.hpp"
#include "patchwright/packer/passage.hpp"
#include "patchwright/packer/pressure.hpp"
#include "patchwright/packer/rigging.hpp"
