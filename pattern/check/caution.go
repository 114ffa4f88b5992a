package check

// The cautions stand wherever the tool shows a figure that they belong to, in these words
// alone.

// BoneCaution stands beside every list of bones.
const BoneCaution = "Bone and wire ends are capped and stop short of seams."

// Caution stands beside every figure of compression that the tool shows.
const Caution = "Pattern arithmetic only, no medical advice. Girth smaller than the body presses: " +
	"little and slowly; stop at pain, numbness, tingling, short breath or dizziness; ask a clinician " +
	"first in pregnancy, after surgery, with heart, lung, gut or nerve illness; no child is " +
	"compressed; somebody must be able to unlace it fast."

// ElasticCaution stands beside every figure of stretch that the tool shows.
const ElasticCaution = "Elastic ages: date it, test its recovery before use, never count on its maximum. " +
	"Anyone who moves hard in it tries the full range unloaded and low first."

// WearCaution stands where a garment is tried on.
const WearCaution = "A garment is not a harness: never hang, rig or catch a person by it; rigging is " +
	"for licensed people under local codes."

// PrivateCaution stands where somebody may write down what a body measures.
const PrivateCaution = "Measures of a body are private: history keeps what was once pushed."
