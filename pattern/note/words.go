package note

import (
	"strings"

	"seamkeep/pattern/diag"
)

// The keys of our trailers.
const (
	keyAlteration = "Alteration"
	keyBecause    = "Because"
	keyDoes       = "Does"
	keyChanges    = "Changes"
	keyKeeps      = "Keeps"
	keyOnly       = "Only"
	keyAnswers    = "Answers"
	keyUnfinished = "Unfinished"
)

// Keys lists the words that our lines begin with, in the order in which a note
// is written.
func Keys() []string {
	return []string{keyAlteration, keyBecause, keyDoes, keyChanges, keyKeeps, keyOnly, keyAnswers, keyUnfinished}
}

// ours gives the word of ours that a key is, in whatever case, since git's keys
// have none.
func ours(key string) (string, bool) {
	for _, k := range Keys() {
		if strings.EqualFold(k, key) {
			return k, true
		}
	}
	return "", false
}

// nearMiss gives the word of ours that a key nearly is. Keys with a hyphen are
// other people's (Change-Id, Signed-off-by): ours have none. So is "Docs", which is
// in use and one letter from Does.
func nearMiss(key string) string {
	low := strings.ToLower(key)
	if strings.Contains(low, "-") || low == "docs" {
		return ""
	}
	var words []string
	for _, k := range Keys() {
		words = append(words, strings.ToLower(k))
	}
	word, _ := ours(diag.Nearest(low, words))
	return word
}
