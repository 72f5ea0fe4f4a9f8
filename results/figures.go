package results

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/google/renameio/v2"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"forkfront/objectives"
)

// FiguresDir is the subfolder of pictures. Files there whose names match FigureFiles are forkfront's
// own.
const (
	FiguresDir  = "figures"
	FigureFiles = "fork*.[ps][nv]g"
)

// figure is a picture and its size.
type figure struct {
	name          string
	width, height vg.Length
	draw          func(draw.Canvas) error
}

// figureDPI makes a full-width picture about 1,900 pixels wide: sharp in print and on a slide.
const figureDPI = 280

// WriteFigures draws the front, the curves of the balanced candidates beside the telescopic fork, and
// the side view of each at top-out, sag and bottom-out, as PNG and SVG into the subfolder figures. It
// returns the files that it wrote.
func (f *Folder) WriteFigures(forks ForkOf) ([]string, error) {
	figures, err := f.figures(forks)
	if err != nil {
		return nil, fmt.Errorf("figures: %w", err)
	}
	if err := os.MkdirAll(f.Path(FiguresDir), 0o755); err != nil {
		return nil, fmt.Errorf("figures: %w", err)
	}
	var paths []string
	for i := range figures {
		for _, kind := range []string{"png", "svg"} {
			path := filepath.Join(f.Path(FiguresDir), figures[i].name+"."+kind)
			if err := figures[i].write(path, kind); err != nil {
				return nil, fmt.Errorf("figure %s: %w", path, err)
			}
			paths = append(paths, path)
		}
	}
	return paths, nil
}

func (f *Folder) figures(forks ForkOf) ([]figure, error) {
	table, err := ReadTable(f.Path(FrontFile))
	if err != nil {
		return nil, err
	}
	wanted := wantedOf(table)
	if table.Rows == 0 || len(wanted) < 2 {
		return nil, errors.New("a front of at least one candidate and two objectives is needed")
	}
	figures := []figure{frontFigure(table, wanted)}
	shown, err := solvedPicks(table, wanted, forks)
	if err != nil {
		return nil, err
	}
	figures = append(figures, curvesFigure(shown))
	for i, s := range shown {
		figures = append(figures, sideFigure(s, i+1))
	}
	return figures, nil
}

// mostShown is how many candidates a picture of curves holds and stays readable.
const mostShown = 4

// solvedPicks are the balanced candidates, moved.
func solvedPicks(t *Table, wanted []want, forks ForkOf) ([]*solved, error) {
	var shown []*solved
	for _, p := range picksOf(t, wanted, t.Rows) {
		if !slices.Contains(p.why, "balanced") || len(shown) == mostShown {
			continue
		}
		f, err := forks(p.row)
		if err != nil {
			return nil, err
		}
		s, err := f.solve(objectives.NewScorer(f.Conditions)) // a scorer each: its states are kept
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

// shortID keeps the end of a long id: case and number are what tells candidates apart.
func shortID(id string) string {
	parts := strings.Split(id, "/")
	return strings.Join(parts[max(0, len(parts)-3):], "/")
}
