package table

// Write writes a table of so many rows, each set by a call of set, and closes it. The first
// row that is refused ends it, and leaves no file.
func Write(path string, columns []Column, meta map[string]string, rows int, set func(w *Writer, row int)) error {
	w, err := Create(path, columns, meta)
	if err != nil {
		return err
	}
	defer w.Abort() // after Close it does nothing
	for row := range rows {
		set(w, row)
		if err := w.EndRow(); err != nil {
			return err
		}
	}
	return w.Close()
}
