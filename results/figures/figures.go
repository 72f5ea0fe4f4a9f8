// Package figures turns a front and its balanced candidates into pictures for papers and slides.
package figures

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/google/renameio/v2"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"forkfront/objectives"
	"forkfront/results/picks"
	"forkfront/results/sideview"
	"forkfront/results/table"
)

// Files is a pattern that the names of all files that Write makes match.
const Files = "fork*.[ps][nv]g"

// figure is a picture and its size.
type figure struct {
	name          string
	width, height vg.Length
	draw          func(draw.Canvas) error
}

// figureDPI makes a full-width picture about 1,900 pixels wide: sharp in print and on a slide.
const figureDPI = 280

// Write draws, for each bike and package, the front and the curves of balanced candidates next to the telescopic
// fork, over the travel and, where events are simulated, over time, and the side view of each of these candidates at
// top-out, sag and bottom-out, as PNG and SVG into a folder, which it makes. It returns the files that it wrote.
func Write(dir string, front *table.Table, forks sideview.ForkOf) ([]string, error) {
	figures, err := all(front, forks)
	if err != nil {
		return nil, fmt.Errorf("figures: %w", err)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("figures: %w", err)
	}
	var paths []string
	for i := range figures {
		for _, kind := range []string{"png", "svg"} {
			path := filepath.Join(dir, figures[i].name+"."+kind)
			if err := figures[i].write(path, kind); err != nil {
				return nil, fmt.Errorf("figure %s: %w", path, err)
			}
			paths = append(paths, path)
		}
	}
	return paths, nil
}

func all(front *table.Table, forks sideview.ForkOf) ([]figure, error) {
	criteria := picks.Criteria(front)
	if front.Rows == 0 || len(criteria) < 2 {
		return nil, errors.New("expected a front with at least one candidate and two objectives")
	}
	var figures, sides []figure
	settings, chosen := picks.Settings(front), picks.Choose(front, criteria, nil)
	for i, setting := range settings {
		end := ""
		if len(settings) > 1 {
			end = fmt.Sprintf("-%d", i+1)
		}
		shown, err := solvedPicks(front, chosen, setting.Name, forks)
		if err != nil {
			return nil, err
		}
		figures = append(figures, frontFigure("fork-front"+end, front.Select(setting.Rows), criteria, setting.Name),
			curvesFigure("fork-curves"+end, shown, len(sides)+1))
		figures = append(figures, eventsFigure("fork-events"+end, shown, len(sides)+1)...)
		for _, s := range shown {
			sides = append(sides, sideFigure(s, len(sides)+1))
		}
	}
	return append(figures, sides...), nil
}

// mostShown is how many candidates a picture of curves can show and stay readable.
const mostShown = 4

// solvedPicks are the most balanced candidates of a setting, moved: first the one of each mechanism.
func solvedPicks(t *table.Table, chosen []picks.Pick, setting string, forks sideview.ForkOf) ([]*sideview.Solved, error) {
	var shown []*sideview.Solved
	var rows []int
	for _, p := range chosen {
		if p.Setting == setting && slices.Contains(p.Why, "balanced") {
			rows = append(rows, p.Row)
		}
	}
	first, others := []int{}, []int{}
	for _, of := range t.Groups(rows, "mechanism") {
		first, others = append(first, of[0]), append(others, of[1:]...)
	}
	rows = append(first, others...)
	for _, row := range rows[:min(len(rows), mostShown)] {
		f, err := forks(row)
		if err != nil {
			return nil, err
		}
		s, err := f.Solve(objectives.NewScorer(f.Conditions)) // a scorer each: its states are kept
		if err != nil {
			return nil, err
		}
		shown = append(shown, s)
	}
	return shown, nil
}

func (f *figure) write(path, kind string) error {
	var text bytes.Buffer
	var canvas interface {
		vg.CanvasSizer
		io.WriterTo
	}
	if kind == "svg" {
		canvas = vgsvg.New(f.width, f.height)
	} else {
		canvas = vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(f.width, f.height), vgimg.UseDPI(figureDPI))}
	}
	if err := f.draw(draw.New(canvas)); err != nil {
		return err
	}
	if _, err := canvas.WriteTo(&text); err != nil {
		return err
	}
	return renameio.WriteFile(path, text.Bytes(), 0o644, renameio.WithTempDir(filepath.Dir(path)))
}
