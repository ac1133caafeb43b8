module runnel

go 1.26.0

require (
	github.com/paulmach/orb v0.14.0
	github.com/peterstace/simplefeatures v0.50.0
	github.com/spf13/cobra v1.10.2
	github.com/tidwall/geojson v1.4.5
	github.com/tidwall/gjson v1.12.1
	github.com/tidwall/rtree v1.3.1
	golang.org/x/term v0.48.0
)

require (
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/spf13/pflag v1.0.9 // indirect
	github.com/tidwall/geoindex v1.4.4 // indirect
	github.com/tidwall/match v1.1.1 // indirect
	github.com/tidwall/pretty v1.2.0 // indirect
	github.com/tidwall/sjson v1.2.4 // indirect
	golang.org/x/sys v0.50.0 // indirect
)
