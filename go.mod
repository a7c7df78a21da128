module example.com/gainsay

go 1.26

require (
	github.com/spf13/pflag v1.1.0
	gopkg.in/yaml.v3 v3.0.1
)

require github.com/google/go-cmp v0.7.0
