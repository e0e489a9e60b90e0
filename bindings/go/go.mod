module platewright

go 1.19
