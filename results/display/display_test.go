package display

import (
	"os/exec"
	"testing"
)

// A word that is quoted comes back from a shell as it was.
func TestQuotedWordsSurviveAShell(t *testing.T) {
	shell, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("no shell here")
	}
	for _, word := range []string{"out", "a b", "it's", `"$HOME" \ *`, "", "-x", "a;b", "tab\there", "ä ö", "~", "a=b"} {
		got, err := exec.Command(shell, "-c", "printf %s "+ShellWord(word)).Output()
		if word == "-x" {
			got, err = exec.Command(shell, "-c", "printf %s -- "+ShellWord(word)).Output()
			got = got[min(2, len(got)):]
		}
		if err != nil || string(got) != word {
			t.Errorf("%q became %q: %v", word, got, err)
		}
	}
	if ShellWord("plain/path-1.yaml") != "plain/path-1.yaml" {
		t.Error("a plain path is quoted")
	}
}

func TestShownTextSteersNoTerminal(t *testing.T) {
	for text, want := range map[string]string{
		"mid-tail cargo/größer": "mid-tail cargo/größer", "a\x1b[31mb": "a\ufffd[31mb", "a\nb": "a\ufffdb", "a\u202eb": "a\ufffdb", "a\u0085b": "a\ufffdb",
	} {
		if got := Printable(text); got != want {
			t.Errorf("%q became %q", text, got)
		}
	}
}
