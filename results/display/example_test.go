package display_test

import (
	"fmt"

	"forkfront/results/display"
)

func ExampleShellWord() {
	fmt.Println(display.ShellWord("out/night"), display.ShellWord("it's mine"))
	// Output: out/night 'it'\''s mine'
}
