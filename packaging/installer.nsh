; MIDI files: Linekeeper is offered under "Open with" and stays no one's default.
; Source: Microsoft, "How to Include an Application on the Open With Dialog Box" (OpenWithProgids).
!macro customInstall
  WriteRegStr SHELL_CONTEXT "Software\Classes\Linekeeper.midi" "" "MIDI file"
  WriteRegStr SHELL_CONTEXT "Software\Classes\Linekeeper.midi\shell\open\command" "" '"$INSTDIR\${APP_EXECUTABLE_FILENAME}" "%1"'
  WriteRegStr SHELL_CONTEXT "Software\Classes\.mid\OpenWithProgids" "Linekeeper.midi" ""
  WriteRegStr SHELL_CONTEXT "Software\Classes\.midi\OpenWithProgids" "Linekeeper.midi" ""
!macroend

!macro customUnInstall
  DeleteRegKey SHELL_CONTEXT "Software\Classes\Linekeeper.midi"
  DeleteRegValue SHELL_CONTEXT "Software\Classes\.mid\OpenWithProgids" "Linekeeper.midi"
  DeleteRegValue SHELL_CONTEXT "Software\Classes\.midi\OpenWithProgids" "Linekeeper.midi"
!macroend
