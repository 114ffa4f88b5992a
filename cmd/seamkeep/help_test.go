package main

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ours gives all commands that a maker can see, except those that the library
// for command lines adds by itself.
func ours(c *cobra.Command) []*cobra.Command {
	list := []*cobra.Command{c}
	for _, sub := range c.Commands() {
		if !sub.Hidden && sub.Name() != "completion" && sub.Name() != "help" {
			list = append(list, ours(sub)...)
		}
	}
	return list
}

func TestTheHelpOfEveryCommandFitsAndShowsAnExample(t *testing.T) {
	list := ours(rootCommand(newApp(strings.NewReader(""), &bytes.Buffer{}, &bytes.Buffer{})))
	require.Greater(t, len(list), 15)
	for _, c := range list {
		t.Run(c.CommandPath(), func(t *testing.T) {
			var out bytes.Buffer
			args := strings.Fields(c.CommandPath())[1:]
			assert.Equal(t, exitFine, run(append(args, "--help"), newApp(strings.NewReader(""), &out, &out)))
			for _, line := range strings.Split(out.String(), "\n") {
				assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
			}
			assert.Contains(t, out.String(), "Usage:")
			assert.Contains(t, c.Example, c.CommandPath(), "an example that can be typed")
			assert.NotEmpty(t, c.Short)
			assert.False(t, strings.HasSuffix(c.Short, "."), c.Short)
		})
	}
}
