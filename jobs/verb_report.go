package jobs

import (
	"errors"
	"fmt"
	"io/fs"
	"runtime"

	"github.com/spf13/cobra"

	"forkfront/results"
)

func verbReport(env *Env) *cobra.Command {
	var figures bool
	c := &cobra.Command{
		Use:   "report DIR",
		Short: "Make report.html of finished results anew, with --figures pictures for papers too",
		Args:  cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return takenFrom(args[0], func() error { return report(env, args[0], figures) })
		},
	}
	c.Flags().BoolVar(&figures, "figures", false, "write PNG and SVG pictures into DIR/figures")
	return c
}

func report(env *Env, dir string, figures bool) error {
	folder, err := results.Reopen(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return badInput(err)
	case err != nil:
		return occupied(err)
	}
	defer folder.Close()
	if err := writeReport(folder, runtime.GOMAXPROCS(0)); err != nil {
		return err
	}
	fmt.Fprintln(env.Out, folder.Path(results.ReportFile))
	if figures {
		if err := drawFigures(env, folder); err != nil {
			return err
		}
	}
	return folder.WritePicks(env.Out)
}

func drawFigures(env *Env, folder *results.Folder) error {
	s, err := openShelf(folder.Dir)
	if err != nil {
		return err
	}
	paths, err := folder.WriteFigures(s.fork)
	for _, path := range paths {
		fmt.Fprintln(env.Out, path)
	}
	return err
}

// writeReport makes the report of what the folder holds, with every candidate in motion, on so many processors.
func writeReport(folder *results.Folder, processors int) error {
	s, err := openShelf(folder.Dir)
	if err != nil {
		return err
	}
	return folder.WriteReport(s.fork, processors)
}
