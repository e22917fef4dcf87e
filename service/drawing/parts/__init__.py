"""What sheets, pages and looks are put together from: symbols, callouts, rulers, stations, legends, bars, panels."""
