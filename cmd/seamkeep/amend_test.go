package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// git lets people shorten a long option to any beginning that is its alone
// (gitcli(7), "Abbreviating long options").
func TestAmendIsFoundAmongTheWordsOfACommit(t *testing.T) {
	for words, want := range map[string]bool{
		"--amend": true, "-q --amen": true, "--am -m x": true, "-a -m x --amend": true,
		"": false, "-m --amend": false, "--message --amend": false, "-- --amend": false, "--all": false, "-F --amend -q": false,
	} {
		assert.Equal(t, want, amends(strings.Fields(words)), words)
	}
}
