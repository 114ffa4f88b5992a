//go:build !unix

package repo

// ownedByUs is not asked where files have no numeric owner.
func ownedByUs(string) bool { return true }
