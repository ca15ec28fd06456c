mkfifo input.yaml
