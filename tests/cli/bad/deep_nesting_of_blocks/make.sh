i=0
while [ $i -lt 2000 ]; do printf -- '- '; i=$((i + 1)); done >input.yaml
