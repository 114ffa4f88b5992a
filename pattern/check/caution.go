package check

// BoneCaution stands beside every list of bones.
const BoneCaution = "Bone and wire ends are capped and stop short of seams."
