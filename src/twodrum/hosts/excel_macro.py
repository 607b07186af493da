"""The VBA of the macro that fills the job that is open in Excel."""

# What Python runs for it.
FILLER = "twodrum.hosts.excel_fill"
# A job that is open is filled as a file: saved, closed, filled and opened again, so that a fill
# is what it is at a terminal, whole or not at all, and cells of protected sheets are no matter.
# What stands alone in functions is what a test puts something else in place of.
FILL = f"""
Private Function TDTrouble(ByVal found As String) As String
    TDTrouble = "Python could not be called: " & found & " Run twodrum addin excel again with " _
        & "the Python that is to be called, or twodrum installed to see what is missing."
End Function

Private Function TDPython() As String
    TDPython = GetConfig("INTERPRETER_WIN", "")
End Function

Private Function TDReadOnly(ByVal book As Variant) As Boolean
    TDReadOnly = book.ReadOnly
End Function

Private Sub TDSaveAndClose(ByVal book As Variant)
    book.Save
    book.Close False
End Sub

Private Sub TDRun(ByVal python As String, ByVal path As String, ByVal answer As String)
    Dim quote As String
    quote = Chr$(34)
    CreateObject("WScript.Shell").Run quote & python & quote & " -X utf8 -m {FILLER} " _
        & quote & path & quote & " " & quote & answer & quote, 0, True
End Sub

Private Function TDAnswer(ByVal answer As String) As String
    On Error GoTo nothing_there
    With CreateObject("Scripting.FileSystemObject").OpenTextFile(answer, 1, False, -1)
        TDAnswer = .ReadAll
        .Close
    End With
    Kill answer
    Exit Function
nothing_there:
    TDAnswer = TDTrouble("it gave no answer.")
End Function

Private Sub TDSay(ByVal words As String)
    ' A message box shows a thousand letters and cuts the rest without a word.
    If Len(words) > 900 Then words = Left$(words, 900) & " ... the rest stands on the sheet Start."
    MsgBox words, vbInformation, "twodrum"
End Sub

Private Function TDMaySave(ByVal file As String) As Boolean
    TDMaySave = MsgBox(file & " has changes that are not saved. It will be saved, closed, filled " _
        & "and opened again; what was done before can't be undone then.", _
        vbOKCancel + vbQuestion, "twodrum") = vbOK
End Function

Private Function TDRefusal(ByVal book As Variant) As String
    If book.Path = "" Then
        TDRefusal = book.Name & ": it was never saved; a file is filled; save it first."
    ElseIf InStr(book.Path, "://") > 0 Then
        TDRefusal = book.Name & ": it lies on a server; a file on this computer or a drive of " _
            & "the office is filled; save a copy there and open that."
    ElseIf TDReadOnly(book) Then
        TDRefusal = book.Name & ": it is open for reading only, perhaps because somebody else " _
            & "has it open; nothing was changed; close it there and open it again."
    ElseIf TDPython() = "" Then
        TDRefusal = TDTrouble("no interpreter is named in this add-in.")
    End If
End Function

Private Function TDPlace() As String
    On Error Resume Next
    TDPlace = ActiveCell.Address
End Function

Private Function TDOpenAgain(ByVal path As String, ByVal sheet As String, _
    ByVal place As String) As String
    On Error GoTo not_opened
    Workbooks.Open path
    TDGoTo sheet, place
    Exit Function
not_opened:
    TDOpenAgain = " It could not be opened again: " & Err.Description & " " & path
End Function

Private Sub TDGoTo(ByVal sheet As String, ByVal place As String)
    On Error Resume Next
    ActiveWorkbook.Sheets(sheet).Activate
    If place <> "" Then ActiveSheet.Range(place).Select
End Sub

Public Sub TwodrumFill()
    Dim path As String, sheet As String, place As String, said As String, answer As String
    If ActiveWorkbook Is Nothing Then
        TDSay "No workbook is open; open the job that is to be filled."
        Exit Sub
    End If
    said = TDRefusal(ActiveWorkbook)
    If said <> "" Then
        TDSay said
        Exit Sub
    End If
    If Not ActiveWorkbook.Saved Then
        If Not TDMaySave(ActiveWorkbook.Name) Then Exit Sub
    End If
    path = ActiveWorkbook.Path & Application.PathSeparator & ActiveWorkbook.Name
    answer = Environ$("TEMP") & Application.PathSeparator & "twodrum-" _
        & Format$(Now, "yyyymmddhhmmss") & ".txt"
    sheet = ActiveSheet.Name
    place = TDPlace()
    On Error GoTo not_saved
    TDSaveAndClose ActiveWorkbook
    On Error GoTo not_run
    TDRun TDPython(), path, answer
    said = TDAnswer(answer)
opened_again:
    On Error GoTo 0
    said = said & TDOpenAgain(path, sheet, place)
    TDSay said
    Exit Sub
not_run:
    said = TDTrouble(Err.Description)
    Resume opened_again
not_saved:
    TDSay ActiveWorkbook.Name & ": it could not be saved, so it was not filled: " & Err.Description
End Sub

"""
