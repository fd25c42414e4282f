; The installer for Windows: for the one who runs it, without administrator.
; scripts/packing/windows says what to put in: NAME, ID, VERSION, BUILD, ICON, SIZE (kB),
; OUT, COPYRIGHT, and two lists made of the folder that goes in: INSTALL (File lines) and
; UNINSTALL (Delete and RMDir lines). Only what was put there is taken away again: jobs in
; the same folder, and the user's settings, stay.
Unicode true
ManifestDPIAware true
ManifestLongPathAware true
SetCompressor /SOLID lzma
SetDateSave off ; the files' dates are those of packing
RequestExecutionLevel user

!include MUI2.nsh
!include LogicLib.nsh
!include x64.nsh
!include WinVer.nsh

Name "${NAME}"
OutFile "${OUT}"
InstallDir "$LOCALAPPDATA\Programs\${NAME}"
InstallDirRegKey HKCU "Software\${NAME}" "Folder"
BrandingText "${NAME} ${VERSION}"

VIProductVersion "${VERSION}.${BUILD}"
VIAddVersionKey /LANG=0 "ProductName" "${NAME}"
VIAddVersionKey /LANG=0 "FileDescription" "${NAME}"
VIAddVersionKey /LANG=0 "FileVersion" "${VERSION}"
VIAddVersionKey /LANG=0 "ProductVersion" "${VERSION}"
VIAddVersionKey /LANG=0 "LegalCopyright" "${COPYRIGHT}"

!define MUI_ICON "${ICON}"
!define MUI_UNICON "${ICON}"
!define MUI_FINISHPAGE_RUN "$INSTDIR\pinphase.exe"
!insertmacro MUI_PAGE_WELCOME
!insertmacro MUI_PAGE_DIRECTORY
!insertmacro MUI_PAGE_INSTFILES
!insertmacro MUI_PAGE_FINISH
!insertmacro MUI_UNPAGE_CONFIRM
!insertmacro MUI_UNPAGE_INSTFILES
!insertmacro MUI_LANGUAGE "English"
!insertmacro MUI_LANGUAGE "German"
!insertmacro MUI_LANGUAGE "Spanish"

LangString isOpen ${LANG_ENGLISH} "${NAME} is open. Close it, then try again. Nothing has been changed."
LangString isOpen ${LANG_GERMAN} "${NAME} ist offen. Schließen Sie es und versuchen Sie es noch einmal. Nichts wurde verändert."
LangString isOpen ${LANG_SPANISH} "${NAME} está abierto. Ciérrelo e inténtelo de nuevo. No se ha cambiado nada."
LangString needs64 ${LANG_ENGLISH} "${NAME} needs a 64-bit Windows 10 or newer."
LangString needs64 ${LANG_GERMAN} "${NAME} braucht ein 64-Bit-Windows 10 oder neuer."
LangString needs64 ${LANG_SPANISH} "${NAME} necesita Windows 10 de 64 bits o posterior."
LangString jobFile ${LANG_ENGLISH} "${NAME} job"
LangString jobFile ${LANG_GERMAN} "${NAME}-Auftrag"
LangString jobFile ${LANG_SPANISH} "Trabajo de ${NAME}"
LangString packedFile ${LANG_ENGLISH} "${NAME} job with pictures"
LangString packedFile ${LANG_GERMAN} "${NAME}-Auftrag mit Bildern"
LangString packedFile ${LANG_SPANISH} "Trabajo de ${NAME} con fotografías"
LangString lessonFile ${LANG_ENGLISH} "${NAME} lesson"
LangString lessonFile ${LANG_GERMAN} "${NAME}-Unterrichtsstunde"
LangString lessonFile ${LANG_SPANISH} "Lección de ${NAME}"

!define CLASSES "Software\Classes"
!define UNINSTALL_KEY "Software\Microsoft\Windows\CurrentVersion\Uninstall\${ID}"

; StopIfOpen ends before anything is changed when a program of the folder runs: its file
; cannot be written then. A half-removed program would be neither there nor gone.
!macro StopIfOpen program
	${If} ${FileExists} "$INSTDIR\${program}"
		ClearErrors
		FileOpen $0 "$INSTDIR\${program}" a
		${If} ${Errors}
			MessageBox MB_OK|MB_ICONEXCLAMATION "$(isOpen)" /SD IDOK
			SetErrorLevel 2
			Quit
		${EndIf}
		FileClose $0
	${EndIf}
!macroend

; A file type: what it is called, and how it is opened.
!macro FileType type words
	WriteRegStr HKCU "${CLASSES}\${NAME}.${type}" "" "${words}"
	WriteRegStr HKCU "${CLASSES}\${NAME}.${type}\DefaultIcon" "" "$INSTDIR\pinphase.exe,0"
	WriteRegStr HKCU "${CLASSES}\${NAME}.${type}\shell\open\command" "" '"$INSTDIR\pinphase.exe" "%1"'
!macroend

; Endings that others use too are offered under "Open with", no more.
!macro OpenWith ending type
	WriteRegNone HKCU "${CLASSES}\${ending}\OpenWithProgids" "${NAME}.${type}"
	WriteRegStr HKCU "${CLASSES}\Applications\pinphase.exe\SupportedTypes" "${ending}" ""
!macroend

Function .onInit
	${IfNot} ${RunningX64}
	${OrIfNot} ${AtLeastWin10}
		MessageBox MB_OK|MB_ICONSTOP "$(needs64)" /SD IDOK
		SetErrorLevel 2
		Quit
	${EndIf}
FunctionEnd

Section
	SetShellVarContext current
	!insertmacro StopIfOpen pinphase.exe
	!insertmacro StopIfOpen pincalc.exe
	; An older version goes first: it alone knows which files were its own.
	${If} ${FileExists} "$INSTDIR\uninstall.exe"
		ExecWait '"$INSTDIR\uninstall.exe" /S _?=$INSTDIR' $1
		${If} $1 <> 0
			SetErrorLevel $1
			Quit
		${EndIf}
	${EndIf}
	!include "${INSTALL}"
	SetOutPath "$INSTDIR"
	WriteUninstaller "$INSTDIR\uninstall.exe"
	CreateShortcut "$SMPROGRAMS\${NAME}.lnk" "$INSTDIR\pinphase.exe"

	WriteRegStr HKCU "Software\${NAME}" "Folder" "$INSTDIR"
	!insertmacro FileType Job "$(jobFile)"
	!insertmacro FileType Packed "$(packedFile)"
	!insertmacro FileType Lesson "$(lessonFile)"
	WriteRegStr HKCU "${CLASSES}\Applications\pinphase.exe" "FriendlyAppName" "${NAME}"
	WriteRegStr HKCU "${CLASSES}\Applications\pinphase.exe\shell\open\command" "" '"$INSTDIR\pinphase.exe" "%1"'
	!insertmacro OpenWith .toml Job
	!insertmacro OpenWith .zip Packed
	!insertmacro OpenWith .lesson Lesson
	; The ending of lessons is the program's own, unless another took it before.
	ReadRegStr $0 HKCU "${CLASSES}\.lesson" ""
	${If} $0 == ""
		WriteRegStr HKCU "${CLASSES}\.lesson" "" "${NAME}.Lesson"
	${EndIf}

	WriteRegStr HKCU "${UNINSTALL_KEY}" "DisplayName" "${NAME}"
	WriteRegStr HKCU "${UNINSTALL_KEY}" "DisplayVersion" "${VERSION}"
	WriteRegStr HKCU "${UNINSTALL_KEY}" "DisplayIcon" "$INSTDIR\pinphase.exe,0"
	WriteRegStr HKCU "${UNINSTALL_KEY}" "Publisher" "The ${NAME} authors"
	WriteRegStr HKCU "${UNINSTALL_KEY}" "InstallLocation" "$INSTDIR"
	WriteRegStr HKCU "${UNINSTALL_KEY}" "UninstallString" '"$INSTDIR\uninstall.exe"'
	WriteRegStr HKCU "${UNINSTALL_KEY}" "QuietUninstallString" '"$INSTDIR\uninstall.exe" /S'
	WriteRegDWORD HKCU "${UNINSTALL_KEY}" "EstimatedSize" ${SIZE}
	WriteRegDWORD HKCU "${UNINSTALL_KEY}" "NoModify" 1
	WriteRegDWORD HKCU "${UNINSTALL_KEY}" "NoRepair" 1
	System::Call 'shell32::SHChangeNotify(i 0x08000000, i 0, p 0, p 0)' ; file types have changed
SectionEnd

Section "Uninstall"
	SetShellVarContext current
	!insertmacro StopIfOpen pinphase.exe
	!insertmacro StopIfOpen pincalc.exe
	Delete "$SMPROGRAMS\${NAME}.lnk"
	ReadRegStr $0 HKCU "${CLASSES}\.lesson" ""
	${If} $0 == "${NAME}.Lesson"
		DeleteRegValue HKCU "${CLASSES}\.lesson" ""
	${EndIf}
	DeleteRegValue HKCU "${CLASSES}\.toml\OpenWithProgids" "${NAME}.Job"
	DeleteRegValue HKCU "${CLASSES}\.zip\OpenWithProgids" "${NAME}.Packed"
	DeleteRegValue HKCU "${CLASSES}\.lesson\OpenWithProgids" "${NAME}.Lesson"
	DeleteRegKey HKCU "${CLASSES}\${NAME}.Job"
	DeleteRegKey HKCU "${CLASSES}\${NAME}.Packed"
	DeleteRegKey HKCU "${CLASSES}\${NAME}.Lesson"
	DeleteRegKey HKCU "${CLASSES}\Applications\pinphase.exe"
	DeleteRegKey HKCU "Software\${NAME}"
	!include "${UNINSTALL}"
	Delete "$INSTDIR\uninstall.exe"
	RMDir "$INSTDIR" ; only when nothing else lies there
	; Last, so that what fails half-way can be started again.
	DeleteRegKey HKCU "${UNINSTALL_KEY}"
	System::Call 'shell32::SHChangeNotify(i 0x08000000, i 0, p 0, p 0)'
SectionEnd
