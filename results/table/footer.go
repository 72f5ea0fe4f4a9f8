package table

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"forkfront/results/display"
)

// The footer keys that a table uses itself.
const (
	keyColumns  = "forkfront.columns"        // JSON list of Column, in order
	keyVersion  = "forkfront.schema_version" // SchemaVersion
	keyChecksum = "forkfront.checksum"       // SHA-256 of columns, metadata and values
	keyPandas   = "PANDAS_ATTRS"             // JSON; pandas makes it DataFrame.attrs
)

// TemporaryPrefix begins the names of files that are not finished yet.
const TemporaryPrefix = ".forkfront-"

// footerOf returns the caller's metadata and the table's own, but for the checksum.
func footerOf(columns []Column, meta map[string]string) (map[string]string, error) {
	footer := maps.Clone(meta)
	if footer == nil {
		footer = map[string]string{}
	}
	for _, key := range []string{keyColumns, keyVersion, keyChecksum, keyPandas, keySeal} {
		if _, ok := footer[key]; ok {
			return nil, fmt.Errorf("metadata key %q is reserved for the table; choose another", key)
		}
	}
	dictionary, err := json.Marshal(columns)
	if err != nil {
		return nil, err
	}
	attrs, err := pandasAttrs(columns, meta)
	if err != nil {
		return nil, err
	}
	footer[keyColumns] = string(dictionary)
	footer[keyVersion] = strconv.Itoa(SchemaVersion)
	footer[keyPandas] = attrs
	return footer, nil
}

// pandasAttrs says the units once more, where pandas shows them, with the caller's metadata.
func pandasAttrs(columns []Column, meta map[string]string) (string, error) {
	units := map[string]string{}
	for i := range columns {
		if columns[i].Unit != "" {
			units[columns[i].Name] = columns[i].Unit
		}
	}
	attrs := map[string]any{"units": units, "schema_version": SchemaVersion, "caution": display.Caution}
	if len(meta) > 0 {
		attrs["meta"] = meta
	}
	text, err := json.Marshal(attrs)
	return string(text), err
}

// readFooter returns the columns of a table and the caller's metadata.
func readFooter(footer map[string]string) ([]Column, map[string]string, error) {
	text, ok := footer[keyColumns]
	if !ok {
		return nil, nil, fmt.Errorf("no %s in the footer: not a forkfront table", keyColumns)
	}
	if version := footer[keyVersion]; version != strconv.Itoa(SchemaVersion) {
		return nil, nil, fmt.Errorf("schema version %q; this forkfront reads version %d", version, SchemaVersion)
	}
	var columns []Column
	if err := json.Unmarshal([]byte(text), &columns); err != nil {
		return nil, nil, fmt.Errorf("%s in the footer: %w", keyColumns, err)
	}
	if err := checkColumns(columns); err != nil {
		return nil, nil, fmt.Errorf("%s in the footer: %w", keyColumns, err)
	}
	meta := maps.Clone(footer)
	for _, key := range slices.Collect(maps.Keys(meta)) {
		switch key {
		case keyColumns, keyVersion, keyChecksum, keyPandas, keySeal:
			delete(meta, key)
		}
	}
	return columns, meta, nil
}
