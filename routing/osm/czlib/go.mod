module github.com/datadog/czlib

go 1.26
