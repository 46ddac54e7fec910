from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.member_removal import remove_member, why_it_stays
from restoration.models import Member


def member_delete(request, pk):
    """Asks first; a member that a survey speaks of stays, and the page says why."""
    member = get_object_or_404(Member.objects.select_related("vessel"), pk=pk)
    reason = why_it_stays(member)
    if request.method == "POST" and not reason:
        try:
            remove_member(member=member)
        except ValidationError as error:
            reason = " ".join(error.messages)
        else:
            messages.success(request, f"{member.mark} is taken off the register.")
            return redirect(member.vessel)
    context = {
        "member": member,
        "reason": reason,
        "joints": [joint.partner_of(member) for joint in member.joints()],
    }
    status = 422 if request.method == "POST" else 200
    return render(request, "restoration/member_delete.html", context, status=status)
