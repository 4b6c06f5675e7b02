module tremblant

go 1.26

require (
	github.com/andybalholm/brotli v1.3.0
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
	github.com/hack-pad/go-indexeddb v0.3.2
	github.com/stretchr/testify v1.12.1
)

require (
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/hack-pad/safejs v0.1.0 // indirect
	go.yaml.in/yaml/v3 v3.0.5 // indirect
)
