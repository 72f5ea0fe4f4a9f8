package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"runtime"

	"github.com/spf13/cobra"

	"forkfront/jobs/forks"
	"forkfront/jobs/process"
	"forkfront/jobs/store"
	"forkfront/results"
	"forkfront/results/picks"
	"forkfront/results/record"
)

func VerbReport(env *process.Env) *cobra.Command {
	var figures bool
	var prefer picks.Preference
	c := &cobra.Command{
		Use:   "report DIR",
		Short: "Write report.html of finished results again; with --figures, also figures for papers",
		Args:  cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return report(env, args[0], figures, prefer)
		},
	}
	c.Flags().BoolVar(&figures, "figures", false, "write PNG and SVG figures to DIR/figures")
	preferFlag(&prefer, c)
	return c
}

func report(env *process.Env, dir string, figures bool, prefer picks.Preference) error {
	if err := process.CheckFolder(dir); err != nil {
		return err
	}
	folder, err := results.Reopen(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return process.BadInput(err)
	case err != nil:
		return store.Occupied(err)
	}
	defer folder.Close()
	if done, err := record.Read(folder.Path(results.RunFile)); err == nil && !done.Sealed() {
		fmt.Fprintf(env.Err, "%s has no checksum: an earlier version of forkfront wrote it, and damage to it would go unnoticed\n", folder.Path(results.RunFile))
	}
	if err := folder.CheckWhole(); err != nil {
		return err
	}
	if prefer != nil {
		if err := folder.Prefer(prefer); err != nil {
			return process.BadInput(fmt.Errorf("--prefer: %w", err))
		}
	}
	if err := forks.WriteReport(folder, runtime.GOMAXPROCS(0), env.Err); err != nil {
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

func drawFigures(env *process.Env, folder *results.Folder) error {
	s, err := forks.Open(folder.Dir, io.Discard) // the report has said everything
	if err != nil {
		return err
	}
	paths, err := folder.WriteFigures(s.Fork)
	for _, path := range paths {
		fmt.Fprintln(env.Out, path)
	}
	return err
}
