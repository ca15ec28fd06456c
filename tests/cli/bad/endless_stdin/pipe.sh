while :; do echo "# more and more and more and more of the same"; done
